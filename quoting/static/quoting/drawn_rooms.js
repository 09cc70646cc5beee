// What the two drawings of a room in the rooms form share: making controls, and following the form's answers.
"use strict";
window.drawnRooms = (() => {
  const { placesOfRooms } = window.outlineFields;

  function make(parent, name, marks = {}, text = "") {
    const made = parent.appendChild(document.createElement(name));
    for (const [mark, value] of Object.entries(marks)) made.setAttribute(mark, value);
    if (text) made.textContent = text;
    return made;
  }
  function button(parent, text, press, label = "") {
    const made = make(parent, "button", { type: "button", class: "button quiet" }, text);
    if (label) made.setAttribute("aria-label", label);
    made.addEventListener("click", press);
    return made;
  }

  // Keep a drawing for every room of the form. mark: of its place on the page; data: of the server's answers to it;
  // drawingOf: makes one; sheetOf: where its keys are pressed. Gives back what tells the drawings there are now.
  function follow({ mark, data, drawingOf, sheetOf }) {
    let rooms = [];
    function takeAnswers() {
      const form = rooms[0]?.form, places = form ? placesOfRooms(form) : [];
      for (const answer of document.querySelectorAll(`#live [data-${data}]`)) {
        const room = rooms.find((one) => one.base === `rooms[${places[answer.dataset[data]]}]`);
        room?.answer(JSON.parse(answer.textContent));
      }
    }
    function setUp() {
      const found = [...document.querySelectorAll(`[data-${mark}]`)];
      if (!found.some((details) => !rooms.some((room) => room.details === details))) return;
      const before = rooms;
      rooms = found.map(drawingOf);
      if (before.length === rooms.length) rooms.forEach((room, place) => room.takeOver(before[place]));
      takeAnswers();
    }
    // An answer to what stood in the form before the last stroke is out of date; the next one is asked for.
    document.addEventListener("htmx:beforeRequest", (event) => {
      if (event.detail.target?.id === "live") for (const room of rooms) room.waits = false;
    });
    document.addEventListener("htmx:afterSwap", (event) => { if (event.detail.target?.id === "live") takeAnswers(); });
    document.addEventListener("htmx:afterSettle", setUp);
    document.addEventListener("keydown", (event) => {
      const room = rooms.find((one) => sheetOf(one).contains(event.target));
      if (!room || !(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
      event.preventDefault();
      if (event.shiftKey) room.redo();
      else room.undo();
    });
    setUp();
    return () => rooms;
  }

  return { make, button, follow };
})();
