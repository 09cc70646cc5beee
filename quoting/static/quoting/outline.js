// The drawings of the rooms form: one for each room, fed by what the server measured and answered.
// What is drawn is written into the form's own fields; the form stays the one truth.
"use strict";
(() => {
  const { isSound, lifted } = window.outlineShape;
  const { draw, viewOf } = window.outlineDrawing;
  const { fieldsOf } = window.outlineFields;
  const { follow } = window.drawnRooms;
  const { listen, removed } = window.outlineDrag;
  const usual = [60, 96], together = 1500, tallest = 460;

  class DrawnRoom {
    constructor(details) {
      Object.assign(this, { details, base: details.dataset.draw, shape: null, shown: null, chosen: "", square: true, done: [], undone: [] });
      const part = (name) => details.querySelector(`[data-draw-${name}]`);
      Object.assign(this, { svg: part("plan"), said: part("said"), trouble: part("trouble"), panel: part("panel"), tools: part("tools"), start: part("start") });
      this.form = details.closest("form");
      this.fields = fieldsOf(this.form, this.base);
      this.refreshTools = window.outlinePanel.makeTools(this);
      this.start.addEventListener("click", () => this.begin());
      listen(this);
      details.hidden = false;
      new ResizeObserver(() => { if (!this.dragging && Math.abs(this.width() - (this.view?.width || 0)) > 1) this.redraw(); }).observe(this.svg.parentElement);
      this.redraw();
    }

    // The sheet is no wider than its place, and on a phone leaves room for what is typed.
    width() { return Math.max(240, Math.floor(this.svg.parentElement.clientWidth)); }
    // As it was typed, for the fields; the drawing says all lengths in one way.
    typedOf(inches) { return this.fields.textOf(inches, this.shape.units); }
    say(text) { this.said.textContent = text; }

    // Draw anew on a sheet that fits the room.
    redraw() {
      const has = Boolean(this.shape?.corners.length);
      this.start.parentElement.hidden = has;
      for (const part of [this.svg, this.panel]) part.toggleAttribute("hidden", !has);
      // An undone beginning can come again.
      this.tools.toggleAttribute("hidden", !has && !this.undone.length);
      this.refreshTools();
      if (!has || !this.details.open) return;
      this.view = viewOf(this.shape.corners, this.width(), Math.min(tallest, window.innerHeight * 0.55));
      this.preview(this.shape);
      window.outlinePanel.show(this);
    }
    preview(shape) {
      this.shown = shape;
      draw(this.svg, { shape, view: this.view, chosen: this.chosen, textOf: (inches) => lengths.say(inches, shape.units) });
    }
    choose(key) {
      if (this.chosen === key) return;
      this.chosen = key;
      this.say("");
      this.preview(this.shown);
      window.outlinePanel.show(this);
    }
    openPanel() { this.panel.querySelector("input")?.select(); this.panel.querySelector("input")?.focus(); }

    begin() {
      const units = this.details.dataset.units, [width, length] = ["width", "length"].map((name, place) =>
        lengths.read(this.fields.control(`outline.${name}`).value, units) || lengths.snap(usual[place], units));
      this.shape = { units, corners: [], fixtures: [], openings: [] };
      this.commit({ ...this.shape, corners: [[0, 0], [width, 0], [width, length], [0, length]] }, "wall:0");
      this.choose("wall:0");
      this.openPanel();
    }
    // Keep a drawn shape: into the fields, onto the list for undo. same: moves of one kind undo together.
    commit(shape, key, same = "") {
      if (!isSound(shape.corners)) {
        this.say("The walls would cross or touch, so nothing was moved.");
        this.preview(this.shape);
        return false;
      }
      const before = this.shape, last = this.done.at(-1), now = performance.now();
      shape.corners = lifted(shape.corners);
      const changes = this.fields.write(before, shape);
      delete shape.renamed;
      this.shape = shape;
      if (changes.length) {
        if (same && last?.same === same && now - last.when < together) {
          Object.assign(last, { changes: [...last.changes, ...changes], after: shape, when: now });
        } else this.done.push({ changes, before, after: shape, same, when: now });
        this.undone = [];
        this.waits = true;
      }
      this.redraw();
      this.say(this.svg.querySelector(`[data-key="${key}"]`)?.getAttribute("aria-label") || "");
      return true;
    }
    // Keep a shape whose corners came in or went out.
    cut(shape) {
      if (!shape) return this.say(this.square ? "There is no room for that with square corners." : "That would leave no room.");
      this.chosen = "";
      return this.commit(shape, "") && this.say(`${shape.corners.length} corners now.`);
    }
    remove(key) {
      const shape = removed(this, this.shape, key);
      if (!shape || shape.renamed) return this.cut(shape);
      this.chosen = "";
      return this.commit(shape, "") && this.say("Removed.");
    }
    undo() { this.step(this.done, this.undone, true, "Undone."); }
    redo() { this.step(this.undone, this.done, false, "Done again."); }
    step(from, to, backwards, words) {
      const entry = from.pop();
      if (!entry) return;
      to.push(entry);
      entry.same = "";
      this.fields.apply(entry.changes, backwards);
      this.shape = backwards ? entry.before : entry.after;
      this.waits = true;
      this.chosen = "";
      this.redraw();
      this.say(words);
    }

    // What the server measured. While it can not read the outline the drawing stays as it was.
    answer({ problem, ...shape }) {
      this.trouble.textContent = problem;
      this.trouble.hidden = !problem;
      this.details.dataset.units = shape.units;
      if (!shape.corners.length || this.dragging || this.waits) return;
      for (const list of ["fixtures", "openings"]) {
        const rows = this.fields.rowsOf(list);
        shape[list] = shape[list].map(({ row, ...thing }) => ({ ...thing, at: rows[row] }));
      }
      this.shape = shape;
      this.fields.rememberAll(shape.units);
      this.redraw();
    }
    // After the form was drawn anew: what was drawn can still be undone.
    takeOver({ shape, chosen, square, done, undone, details }) {
      Object.assign(this, { shape, chosen, square, done, undone });
      this.details.open = details.open;
      this.redraw();
    }
  }

  function drawingOf(details) {
    const room = new DrawnRoom(details);
    details.addEventListener("toggle", () => room.redraw());
    return room;
  }
  const roomsNow = follow({ mark: "draw", data: "room", drawingOf, sheetOf: (room) => room.svg });
  // Back in the browser brings the fields again as they were typed; ask what they come to.
  window.addEventListener("pageshow", () => {
    const form = roomsNow()[0]?.form, isTyped = (field) => field.name && field.type === "text" && field.value !== field.defaultValue;
    if (form && [...form.elements].some(isTyped)) form.dispatchEvent(new Event("change", { bubbles: true }));
  });
})();
