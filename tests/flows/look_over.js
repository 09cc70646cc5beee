// What is wrong with the page for a finger and for a keyboard: targets under `smallest` px, focus without a ring.
(smallest) => {
  const seen = (selector) =>
    [...document.querySelectorAll(selector)].filter(
      (e) => e.checkVisibility() && !e.disabled && !e.closest(".visually-hidden, .skip"),
    );
  const named = (e) => `${e.tagName.toLowerCase()} ${e.id || e.name || e.textContent.trim().slice(0, 40)}`;
  // A box or a round button is pressed by its label.
  const held = (e) => (["checkbox", "radio"].includes(e.type) && e.closest("label")) || e;
  const height = (e) => Math.round(held(e).getBoundingClientRect().height);
  const has_ring = (e) => {
    e.focus({ preventScroll: true });
    const style = getComputedStyle(e);
    return style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
  };
  const fields = "input:not([type=hidden]), select, textarea";
  return [
    ...seen(`button, .button, nav a, ${fields}`)
      .filter((e) => height(e) < smallest)
      .map((e) => `${named(e)} is ${height(e)} px high`),
    ...seen(`a[href], button, summary, [tabindex="0"], ${fields}`)
      .filter((e) => !has_ring(e))
      .map((e) => `${named(e)} shows no focus`),
  ];
};
