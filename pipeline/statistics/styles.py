"""Ways of landing: a landing frame in, the styles found and each landing's style out.

Styles are found in what happens before contact, after conditions are taken out. One style is a possible answer, and
so is "none of these" for a landing. A style describes landings; no pilot is assigned one.
"""

from dataclasses import dataclass

import numpy as np
import polars as pl
from numpy.typing import NDArray
from sklearn.preprocessing import PowerTransformer

from pipeline.recording import Floats
from pipeline.statistics.eligible import eligible
from pipeline.statistics.mixture import Mixture, assign, fit
from pipeline.statistics.standing import Ints
from pipeline.statistics.style_features import FEWEST, QUARTILE_RANGE_OF_NORMAL, adjusted_features, quartiles, serving
from pipeline.statistics.style_names import names
from pipeline.statistics.style_stability import PATTERN, stability, stability_word

Ids = NDArray[np.object_]

STYLE_SCHEMA = {
    "style": pl.Int64(),
    "name": pl.String(),
    "landings": pl.Int64(),
    "share": pl.Float64(),
    "feature": pl.String(),
    "centre": pl.Float64(),
    "spread": pl.Float64(),
}
STABILITY_SCHEMA = {"style": pl.Int64(), "overlap": pl.Float64(), "called": pl.String()}
LANDING_STYLE_SCHEMA = {"landing_id": pl.String(), "style": pl.Int64(), "probability": pl.Float64()}

LEAST_FEATURES = 3
MOST_FITTED = 20_000
MANY = 3000
"""Landings from which a fit starts three times only, not eight: with so many they find the same."""

MOST_RESAMPLED = 2000
SEED = 20261125
FARTHEST = 3.5
"""Spreads beyond which a transformed feature is pulled in, so that single oddities make no style."""

SURE = 0.8
NONE_OF_THEM = 0.001
LEAST_SHARE = 0.05
"""A group of fewer landings is a set of oddities, not a style; its landings are in none."""


@dataclass(frozen=True)
class Styles:
    """`style`: one row a style and feature, most frequent first; `landing_style`: one row a landing tried.

    `centre` is the median and `spread` the quartile range / 1.349 of the adjusted feature among the style's landings,
    in the feature's unit; `share` is of all landings tried. A landing's `style` is null where no style is likelier than
    0.8 (between styles) or it lies further out than one landing in a thousand of the nearest style, or in a group of
    under a twentieth of the landings, or in one that resampled landings do not show again (none of them);
    `probability` is the likeliest's. `stability`: one row a style, its mean overlap with itself in resampled landings
    and what that is called. All are empty where nothing can be told yet; `statement` says why, or how far apart styles
    must lie to be seen.
    """

    style: pl.DataFrame
    landing_style: pl.DataFrame
    stability: pl.DataFrame
    statement: str


@dataclass(frozen=True)
class _Found:
    """Styles of landings on one footing: landings (n), features (n, d) with names, groups (n,), names, overlaps."""

    landing_id: pl.Series
    x: Floats
    features: list[str]
    style: Ints
    probability: Floats
    called: list[str]
    overlap: list[float]


def find_styles(landings: pl.DataFrame) -> Styles:
    """Fit styles on the baseline-eligible landings and assign every one that has at least three used features.

    Aircraft types (or recorders) that no pilot mixes cannot be put on one footing; each has styles of its own, named
    after the type.
    """
    kept = eligible(landings)
    if kept.height < FEWEST:
        return _cannot_tell(f"{kept.height} landings count, {FEWEST} are needed")
    groups = [group for _, group in adjusted_features(kept).group_by("footing", maintain_order=True)]
    found = [one for one in map(_on_one_footing, groups) if one is not None]
    if not found:
        return _cannot_tell(f"no aircraft type has {FEWEST} landings with {LEAST_FEATURES} well measured features")
    return _together(found)


def separation(landings: int) -> str:
    """Say how far apart styles must lie to be seen in so many landings.

    Simulated (five styles of shares 35 to 8 %, our own figures): 4 spreads with 2,000 landings, 5 to 6 with 300;
    between them the line in the logarithm of the number.
    """
    share = min(max(np.log(landings / 300.0) / np.log(2000.0 / 300.0), 0.0), 1.0)
    return (
        f"Styles less than about {5.5 - 1.5 * share:.1f} spreads apart would be seen as one in {landings:,} landings."
    )


def _cannot_tell(why: str) -> Styles:
    schemas = (STYLE_SCHEMA, LANDING_STYLE_SCHEMA, STABILITY_SCHEMA)
    style, landing_style, steady = (pl.DataFrame(schema=schema) for schema in schemas)
    return Styles(style, landing_style, steady, f"Cannot tell yet: {why}.")


def _on_one_footing(group: pl.DataFrame) -> _Found | None:
    """Fit and assign landings that can be compared; None where they or their features are too few."""
    features = serving(group)
    x = group.select(features).fill_null(np.nan).to_numpy()
    if len(features) < LEAST_FEATURES or np.isfinite(x).all(axis=1).sum() < FEWEST:
        return None
    told = np.isfinite(x).sum(axis=1) >= LEAST_FEATURES
    group, x = group.filter(pl.Series(told)), x[told]
    whole = np.isfinite(x).all(axis=1)
    points = _even(x, whole)
    rows = _sample(group["pilot"].to_numpy()[whole], most=MOST_FITTED)
    fitted, session = points[whole][rows], group["session"].to_numpy().astype(np.int64)[whole][rows]
    mixture = fit(fitted, seed=SEED, starts=8 if len(fitted) <= MANY else 3)
    overlap = _overlap(fitted, mixture, session)
    style, probability, shown = _assigned(points, mixture, overlap)
    kind = group["aircraft_type"].fill_null("type not known").mode().sort()[0]
    called = [f"{name} ({kind})" for name in names(_distance(x, style), features)]
    return _Found(group["landing_id"], x, features, style, probability, called, overlap[shown].tolist())


def _overlap(fitted: Floats, mixture: Mixture, session: Ints) -> Floats:
    """Stability of each group, (groups,), on at most 2,000 of the landings; one group is always found again."""
    if mixture.groups == 1:
        return np.ones(1)
    sessions = np.unique(session)
    share = min(MOST_RESAMPLED / len(fitted), 1.0)
    kept = np.random.default_rng(SEED).choice(sessions, max(int(share * sessions.size), 1), replace=False)
    some = np.isin(session, kept)
    return stability(fitted[some], mixture, session=session[some], seed=SEED)


def _even(x: Floats, whole: Floats) -> Floats:
    """Features (n, d) made as normal as a power can (Yeo and Johnson 2000, Biometrika 87:954-959), pulled in at 3.5."""
    transformer = PowerTransformer(method="yeo-johnson").fit(x[whole])
    return np.asarray(np.clip(transformer.transform(x), -FARTHEST, FARTHEST), dtype=float)


def _sample(pilot: Ids, *, most: int) -> Ints:
    """Rows of at most so many landings (n,), of each pilot in proportion and spread over his landings."""
    if len(pilot) <= most:
        return np.arange(len(pilot))
    order = np.argsort(pilot, kind="stable")
    return np.sort(order[np.linspace(0, len(pilot) - 1, most).astype(np.int64)])


def _assigned(points: Floats, mixture: Mixture, overlap: Floats) -> tuple[Ints, Floats, Ints]:
    """Style (n,) of each point, 0, 1, ...; -1 between styles or in none.

    Also the likeliest group's probability (n,), and the groups that are styles, in the order of their numbers.
    """
    posterior, near = assign(points, mixture)
    probability, likeliest = posterior.max(axis=1), posterior.argmax(axis=1)
    group = np.where((probability >= SURE) & (near >= NONE_OF_THEM), likeliest, -1)
    frequent = np.bincount(likeliest, minlength=mixture.groups) >= LEAST_SHARE * len(points)
    shown = np.flatnonzero(frequent & (overlap >= PATTERN))
    return np.where(np.isin(group, shown), np.searchsorted(shown, group), -1), probability, shown


def _distance(x: Floats, style: Ints) -> Floats:
    """Each style's centre less the middle of all landings, in spreads of all landings: (styles, d)."""
    low, middle, high = quartiles(x)
    centres = np.array([quartiles(x[style == g])[1] for g in range(style.max() + 1)])
    return (centres - middle) * QUARTILE_RANGE_OF_NORMAL / (high - low)


def _together(found: list[_Found]) -> Styles:
    """Number all styles by how many landings they have, most frequent 0, and write the frames."""
    tried = sum(len(one.x) for one in found)
    held = [(one, g, int(np.sum(one.style == g))) for one in found for g in range(len(one.called))]
    held.sort(key=lambda style: -style[2])
    number = {(id(one), g): place for place, (one, g, _) in enumerate(held)}
    rows = [row for place, (one, g, _) in enumerate(held) for row in _described(one, g, place, tried)]
    placed = [
        {"landing_id": landing, "style": number.get((id(one), int(g))), "probability": float(p)}
        for one in found
        for landing, g, p in zip(one.landing_id, one.style, one.probability, strict=True)
    ]
    steady = [(place, one.overlap[g], stability_word(one.overlap[g])) for place, (one, g, _) in enumerate(held)]
    fewest = min(len(one.x) for one in found)
    return Styles(
        pl.DataFrame(rows, schema=STYLE_SCHEMA),
        pl.DataFrame(placed, schema=LANDING_STYLE_SCHEMA),
        pl.DataFrame(steady, schema=STABILITY_SCHEMA, orient="row"),
        separation(fewest),
    )


def _described(one: _Found, group: int, style: int, tried: int) -> list[dict[str, int | float | str | None]]:
    """Rows of one style, a feature each."""
    held = one.x[one.style == group]
    low, middle, high = quartiles(held)
    return [
        {
            "style": style,
            "name": one.called[group],
            "landings": len(held),
            "share": len(held) / tried,
            "feature": feature,
            "centre": float(middle[f]) if len(held) else None,
            "spread": float((high[f] - low[f]) / QUARTILE_RANGE_OF_NORMAL) if len(held) else None,
        }
        for f, feature in enumerate(one.features)
    ]
