// Picks the usual template for a reason and marks the measures that it asks for; the form works without.
"use strict";

const form = document.querySelector("[data-change-form]");
const template = form?.querySelector("[name=template]");
let chosenByHand = false;

const usualFor = (reason) =>
  [...template.options].find((option) => (option.dataset.reasons || "").split(" ").includes(reason));

const markMeasures = () => {
  const asked = (template.selectedOptions[0]?.dataset.measures || "").split(" ").filter(Boolean);
  form.querySelectorAll("[data-measure]").forEach((field) => {
    field.classList.toggle("unasked", asked.length > 0 && !asked.includes(field.dataset.measure));
  });
};

if (template) {
  form.addEventListener("change", (event) => {
    if (event.target === template) chosenByHand = true;
    if (event.target.name === "reason" && !chosenByHand) {
      const usual = usualFor(event.target.value);
      if (usual) usual.selected = true;
    }
    markMeasures();
  });
  markMeasures();
}
