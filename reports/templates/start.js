
const holders = [...document.querySelectorAll("[data-chart]")];
const draw = async (holder) => {
  const spec = JSON.parse(document.getElementById(holder.dataset.chart).textContent);
  await vegaEmbed(holder, spec, {
    actions: false,
    renderer: "svg",
    ast: true,
    defaultStyle: false,
    tooltip: { disableDefaultStyle: true },
  });
};
Promise.allSettled(holders.map(draw)).then((results) => {
  const drawn = results.filter((result) => result.status === "fulfilled").length;
  document.documentElement.dataset.drawn = `${drawn} of ${holders.length}`;
  for (const result of results) {
    if (result.status === "rejected") console.error(result.reason.message);
  }
});
