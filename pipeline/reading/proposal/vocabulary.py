"""Words people name columns with, in several languages: what each hints at. Data only; `names.py` reads it.

A word of up to three letters must stand alone; a longer one may begin or end a compound (`funkhoehe`, `groundspeed`).
Accents are left out, umlauts are written as two letters.
"""

WORDS: dict[str, tuple[str, ...]] = {
    "height": ("height", "hgt", "ht", "hoehe", "hauteur", "altura", "altezza", "hoogte"),
    "altitude": ("alt", "altitude", "altitud", "altitudine", "altm"),
    "radio": ("radio", "ra", "rad", "ralt", "radalt", "radar", "funk", "sonde", "sonda"),
    "above_ground": ("agl", "aboveground", "uebergrund", "dessussol", "sobretierra"),
    "baro_altitude": ("palt", "zp", "fl"),
    "baro": ("pressure", "press", "baro", "barom", "std", "qne", "druck", "pression", "presion", "pressione"),
    "satellite": ("gps", "gnss", "sat", "satel", "geometric", "geo", "wgs", "ellips", "sateliz", "satellit"),
    "vertical": ("vertical", "vert", "vertikal", "verticale"),
    "climb": (
        "climb", "vs", "vsi", "ivv", "ivsi", "rod", "roc", "vz", "vario", "steig", "ascens", "montee", "varie",
        "salita",
    ),
    "rate": ("rate", "taux", "tasa"),
    "descent": ("descent", "sink", "sinken", "sinkrate", "descente", "descenso", "discesa"),
    "speed": (
        "speed", "spd", "velocity", "vel", "geschw", "tempo", "vitesse", "velocidad", "velocita", "fahrt", "snelheid",
        "knots",
    ),
    "air": ("air", "airspd", "airspeed", "eigen", "aire", "aria", "luft", "badin"),
    "indicated": ("ias", "cas", "kias", "kcas", "vi", "vc", "anv"),
    "ground": ("ground", "gnd", "grund", "boden", "sol", "suelo", "tierra", "suolo"),
    "over_ground": ("gs", "sog", "gspd", "groundspd", "gndspd", "vsol"),
    "pitch": ("pitch", "theta", "nick", "laengsneigung", "tangage", "assiette", "cabeceo", "beccheggio"),
    "roll": ("roll", "bank", "phi", "querlage", "querneig", "roulis", "inclinaison", "alabeo", "rollio"),
    "heading": ("heading", "hdg", "psi", "steuerkurs", "cap", "rumbo", "prua"),
    "track": ("track", "trk", "tk", "cog", "kursuebergrund", "routesol", "routevraie", "derrota"),
    "course": ("course", "kurs", "route", "curso"),
    "true": ("true", "tru", "rechtweisend", "wahr", "vrai", "vraie", "verdadero", "geographique"),
    "magnetic": ("mag", "magnetic", "missweisend", "magnet", "magn"),
    "accel": (
        "accel", "acc", "acceleration", "beschl", "gload", "gforce", "load", "lastfaktor", "lastvielf", "charge",
        "aceler", "accelerazione", "gs",
    ),
    "normal": ("normal", "norm", "vertical", "vert", "z", "vertg", "vtg", "accz", "accn", "accelz"),
    "n_normal": ("nz", "gz", "vertg", "gload", "lastvielfaches", "lastfaktor", "facteurdecharge", "factordecarga"),
    "lengthwise": ("longitudinal", "long", "longi", "x", "laengs", "accl", "accx", "accelx"),
    "n_lengthwise": ("nx", "gx", "longg"),
    "sideways": ("lateral", "lat", "y", "quer", "accy", "accely", "laterale"),
    "n_sideways": ("ny", "gy", "latg"),
    "lever": (
        "lever", "tla", "pla", "throttle", "lvr", "thrustlever", "pwrlvr", "hebel", "schub", "gas", "leistungshebel",
        "manette", "palanca", "mando", "manetta", "mangas",
    ),
    "power": ("power", "thrust", "pwr"),
    "engine": ("fan", "engine", "eng", "triebwerk", "moteur", "motor"),
    "turns": ("rpm", "drehzahl", "regime", "revs", "giri", "turns"),
    "fuel": ("fuel", "kraftstoff", "treibstoff", "carburant", "combustible", "carburante"),
    "flow": ("flow", "ff", "durchfluss", "verbrauch", "debit", "flujo", "caudal", "flusso"),
    "wheels": ("wow", "squat", "airgnd", "airground", "weightonwheel", "onground", "ausol", "amboden", "entierra"),
    "main": ("main", "haupt", "principal", "principale"),
    "nose_wheel": ("nose", "n", "bug", "avant", "nlg", "morro"),
    "gear": ("gear", "fahrwerk", "train", "tren", "ldg", "landinggear", "carrello"),
    "flap": ("flap", "flaps", "klappe", "volet", "landeklappe"),
    "localiser": ("loc", "localiser", "localizer", "llz", "landekurs", "localizador"),
    "glide": ("glide", "glideslope", "gp", "gleitweg", "gleitpfad", "senda", "planeo"),
    "latitude": ("lat", "latitude", "latitud", "latitudine", "breite", "geobreite"),
    "longitude": ("lon", "lng", "long", "longitude", "longitud", "longitudine", "laenge"),
    "spoiler": ("spoiler", "speedbrake", "stoerklappe", "aerofrein", "spl"),
    "reverse": ("reverse", "rev", "reverser", "umkehr", "inverseur", "reversa"),
    "brake": ("brake", "brk", "bremse", "frein", "freno"),
    "autopilot": ("ap", "autopilot", "pilotea", "pilotoa", "autopilota"),
    "autothrust": ("at", "athr", "autothr", "autoschub", "schubregler", "automanette", "autogas"),
    "wind": ("wind", "vent", "viento", "vento"),
    "from": ("from", "dir", "direction", "richtung", "direccion", "direzione", "aus"),
    "weight": ("weight", "gw", "mass", "masse", "gewicht", "poids", "peso", "masa", "grossw"),
}  # fmt: skip

OTHER_THINGS = frozenset({
    "selected", "sel", "target", "tgt", "command", "cmd", "commanded", "bug", "trim", "rate", "director", "fd",
    "set", "limit", "max", "min", "mach", "desired", "demand", "preselect", "reference", "ref", "deviation",
    "error", "status", "fault", "valid", "temp", "temperature", "tas", "ktas", "vref", "vapp", "aoa", "alpha",
    "vane", "elevator", "aileron", "rudder", "column", "yoke", "stick", "pedal", "force", "qty", "quantity",
    "total", "used", "remaining", "oil", "egt", "itt", "n2", "vibration", "frame", "counter", "row", "index",
    "baroset", "qnh", "cabin", "outside", "oat", "soll", "vorwahl", "gewaehlt", "sollwert", "trimmung",
    "hoehenruder", "querruder", "seitenruder", "kabine", "consigne", "selectionne", "selec", "affiche",
    "profondeur", "gouverne", "cabine", "seleccionado", "objetivo", "timon", "selezionato", "wahre", "rate_of_turn",
    "decision", "minimums", "dh", "mda", "bias", "spare", "raw",
})  # fmt: skip
"""Words that say that a column is something else than the channel the rest of its name suggests."""

TIME_WORDS = (
    "time", "clock", "utc", "gmt", "stamp", "elapsed", "zeit", "uhr", "uhrzeit", "temps", "heure", "tiempo", "hora",
    "tempo", "ora", "sec", "seconds", "sek", "ms", "t",
)  # fmt: skip
