// What axe finds: each rule that is broken, what it asks for, and the first element that breaks it.
// Words whose contrast axe can not tell count too, save those drawn over the lines of a sketch.
async () => {
  const answer = await axe.run(document, { resultTypes: ["violations", "incomplete"], selectors: false });
  const unsure = answer.incomplete.filter((one) => one.id === "color-contrast");
  return [...answer.violations, ...unsure]
    .map((one) => [one, one.nodes.find((node) => !node.html.startsWith("<text"))])
    .filter(([, node]) => node)
    .map(([one, node]) => `${one.id}: ${one.help}: ${node.html.slice(0, 200)}`);
}
