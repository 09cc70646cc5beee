// The walls of each room as elevations, fed by what the server measured and answered.
// What is drawn is written into the form's own fields; the form stays the one truth.
"use strict";
(() => {
  const { located, itemsOf, writing, labelOf } = window.elevationsThings;
  const { draw, mark, viewOf } = window.elevationsDrawing;
  const { fieldsOf } = window.outlineFields;
  const { follow } = window.drawnRooms;
  const { show, showStrip, makeTools } = window.elevationsPanel;
  const high = 3, together = 1500, near = 1e-2, tallest = 470;

  class RoomWalls {
    constructor(details) {
      Object.assign(this, { details, base: details.dataset.elevations, shape: null, place: 0, chosen: "", moves: new Map(), done: [], undone: [] });
      for (const name of ["strip", "sheet", "plan", "said", "trouble", "panel", "tools"]) this[name] = details.querySelector(`[data-walls-${name}]`);
      this.svg = this.plan;
      this.form = details.closest("form");
      this.fields = fieldsOf(this.form, this.base);
      this.refreshTools = makeTools(this);
      this.isDragging = window.elevationsDrag.listen(this);
      new ResizeObserver(() => { if (!this.isDragging() && Math.abs(this.width() - (this.view?.width || 0)) > 1) this.redraw(); }).observe(this.sheet);
      details.addEventListener("toggle", () => this.redraw());
    }

    width() { return Math.max(240, Math.floor(this.sheet.clientWidth)); }
    textOf(inches) { return this.fields.textOf(inches, this.shape.units); }
    say(text, aloud = false) {
      this.said.textContent = text;
      this.said.classList.toggle("visually-hidden", !aloud);
    }

    // The shown wall with what was moved since the last answer.
    seen() {
      const wall = { ...this.shape.walls[this.place] }, flat = this.shape.ceiling === null ? null : this.moves.get("ceiling")?.[high] ?? this.shape.ceiling;
      if (flat !== null) wall.left = wall.right = flat;
      const { things, edges } = itemsOf(wall, flat);
      for (const item of things) item.box = this.moves.get(item.key) || item.box;
      for (const edge of edges) edge.box = [...edge.box.slice(0, high), (this.moves.get(edge.zone || edge.key) || edge.box)[high]];
      return { wall, things, edges };
    }
    itemOf(key) {
      if (!key || !this.shape?.walls.length) return undefined;
      const { things, edges } = this.seen();
      return [...things, ...edges].find((item) => item.key === key);
    }

    state() {
      return { ...this.seen(), id: this.base.replace(/\W/g, "-"), view: this.view, chosen: this.chosen, textOf: (inches) => this.textOf(inches) };
    }
    redraw() {
      const has = Boolean(this.shape?.walls.length);
      this.details.hidden = !has;
      if (!has || !this.details.open) return;
      this.place = Math.min(this.place, this.shape.walls.length - 1);
      // While something is held the scale stays, also under a ceiling that goes up.
      if (!this.isDragging?.() || !this.view) this.view = viewOf(this.seen().wall, this.width(), Math.min(tallest, window.innerHeight * 0.6));
      draw(this.svg, this.state());
      showStrip(this);
      show(this);
      this.refreshTools();
    }
    preview(item, box) {
      const key = item.zone || item.key, before = this.moves.get(key);
      this.moves.set(key, box);
      this.redraw();
      if (before) this.moves.set(key, before);
      else this.moves.delete(key);
    }
    choose(key) {
      if (this.chosen === key) return;
      this.chosen = key;
      mark(this.svg, this.state());
      show(this);
    }
    turn(place) {
      Object.assign(this, { place, chosen: "" });
      this.redraw();
      this.say(this.svg.getAttribute("aria-label"));
    }
    openPanel() { this.panel.querySelector("input, button")?.focus(); }
    goTo(item) {
      const first = { openings: "kind", fixtures: "kind" }[item.list] || "wall", own = item.is_edge ? this.fieldOf(item) : `${item.list}[${item.at}].${first}`;
      const field = this.fields.control(own.replace("[new].height", `[${this.fields.freeRow("wet_zones")}].around`));
      field?.closest("details")?.setAttribute("open", "");
      field?.focus();
    }

    // Where an upper edge's height is noted. The usual wet wall of a tub has no row yet; it gets one.
    fieldOf(item) {
      const part = { ceiling: "ceiling", finishes: "finishes.wainscot" }[item.list];
      if (part) return this.fields.control(`${part}.height`) ? `${part}.height` : part;
      const around = (row) => this.fields.control(`wet_zones[${row}].around`)?.value;
      const row = item.at ?? this.fields.rowsOf("wet_zones").find((one) => around(one) === item.around);
      return `wet_zones[${row ?? "new"}].height`;
    }
    // The texts for a height of an upper edge, with the row of a wet wall that had none.
    edgeTexts(item, text) {
      const name = this.fieldOf(item);
      if (!name.includes("[new]")) return [[name, text]];
      const row = this.fields.freeRow("wet_zones");
      return row === null ? [] : [[`wet_zones[${row}].around`, item.around], [`wet_zones[${row}].height`, text]];
    }
    edgeText(item, box) {
      const ceiling = item.list === "wet_zones" && this.shape.ceiling !== null && Math.abs(box[high] - this.seen().wall.left) < near;
      return ceiling ? "ceiling" : this.textOf(box[high]);
    }

    // Keep a moved box: into the fields, onto the list for undo. same: moves of one kind undo together.
    commit(item, box, same = "") {
      const texts = item.is_edge ? this.edgeTexts(item, this.edgeText(item, box)) : writing(this.seen().wall, item, item.box, box, (inches) => this.textOf(inches));
      const is_moved = item.box.some((edge, side) => Math.abs(edge - box[side]) > near / 10);
      if (is_moved) {
        this.moves.set(item.zone || item.key, box);
        this.write(texts, same);
      }
      this.redraw();
      const now = this.itemOf(item.key);
      if (now) this.say(labelOf(this.seen().wall, now, (inches) => this.textOf(inches)));
    }
    // Texts for the form's fields, by name.
    write(texts, same = "") {
      const changes = texts.map(([name, text]) => [name, this.fields.control(name)?.value, text, 0]).filter(([, before, after]) => before !== undefined && before !== after);
      if (!changes.length) return;
      this.waits = true;
      this.fields.apply(changes, false);
      const last = this.done.at(-1), now = performance.now();
      if (same && last?.same === same && now - last.when < together) Object.assign(last, { changes: [...last.changes, ...changes], when: now });
      else this.done.push({ changes, same, when: now });
      this.undone = [];
      this.refreshTools();
    }
    // Typed beside the drawing: the text goes into the form as it is, and the server reads it.
    type(name, text) {
      const item = this.itemOf(this.chosen), wall = item?.list === "niches" && !this.fields.control(`niches[${item.at}].wall`).value ? [[`niches[${item.at}].wall`, this.seen().wall.name]] : [];
      this.write(item?.is_edge ? this.edgeTexts(item, text) : [...wall, [name, text]]);
    }
    add(list, texts) {
      const row = this.fields.freeRow(list);
      if (row === null) return this.say(`No more than 20 ${list} fit the form.`, true);
      this.write(Object.entries(texts).map(([name, text]) => [`${list}[${row}].${name}`, text]));
      this.chosen = this.fresh = `${list}:${row}`;
      return this.say(`Added on wall ${this.seen().wall.name}.`);
    }
    rowTexts(item) {
      const start = `${this.base}.`, own = `${start}${item.list}[${item.at}].`;
      return [...this.form.elements].filter((field) => field.name?.startsWith(own)).map((field) => [field.name.slice(start.length), field.value]);
    }
    remove(key) {
      const item = this.itemOf(key);
      if (!["openings", "niches"].includes(item?.list)) return;
      this.write(this.rowTexts(item).map(([name]) => [name, ""]));
      this.chosen = "";
      this.say(`Removed the ${item.name}.`);
    }
    // Niches that share a row: the first keeps it, each other gets one like it.
    split(item) {
      const sizes = this.rowTexts(item).filter(([name, text]) => text && !name.endsWith(".count"));
      const rows = [item.at];
      this.write([[`niches[${item.at}].count`, "1"]]);
      const last = this.done.at(-1);
      while (rows.length < item.count) {
        const row = this.fields.freeRow("niches");
        if (row === null) break;
        rows.push(row);
        this.write(sizes.map(([name, text]) => [name.replace(/^niches\[\d+\]/, `niches[${row}]`), text]));
        last.changes.push(...this.done.pop().changes);
      }
      this.chosen = `niches:${item.at}`;
      this.say(`Each of the ${item.count} niches has its own row now.`);
    }
    undo() { this.step(this.done, this.undone, true, "Undone."); }
    redo() { this.step(this.undone, this.done, false, "Done again."); }
    step(from, to, backwards, words) {
      const entry = from.pop();
      if (!entry) return;
      to.push(Object.assign(entry, { same: "" }));
      this.moves.clear();
      this.waits = true;
      this.fields.apply(entry.changes, backwards);
      this.redraw();
      this.say(words);
    }

    // What the server measured. While it can not read the walls the drawing stays as it was.
    answer({ problem, ...shape }) {
      this.trouble.textContent = problem;
      this.trouble.hidden = !problem;
      if (!shape.walls.length || this.waits) return;
      if (this.isDragging()) { this.late = { problem, ...shape }; return; }
      this.shape = located(shape, (list) => this.fields.rowsOf(list), this.shape);
      for (const key of [...this.moves.keys()]) if (!this.shape.lost.has(key)) this.moves.delete(key);
      this.redraw();
      // What was just added can be moved by key at once.
      const added = this.fresh && this.tools.contains(document.activeElement) && this.svg.querySelector(`[data-key="${this.fresh}"]`);
      if (added) added.focus({ preventScroll: true });
      this.fresh = "";
    }
    // After a drag: an answer that came meanwhile.
    drops() {
      const { late } = this;
      this.late = null;
      if (late) this.answer(late);
    }
    // After the form was drawn anew: what was drawn can still be undone.
    takeOver({ shape, place, chosen, done, undone, details }) {
      Object.assign(this, { shape, place, chosen, done, undone });
      this.details.open = details.open;
      this.redraw();
    }
  }

  follow({ mark: "elevations", data: "walls", drawingOf: (details) => new RoomWalls(details), sheetOf: (room) => room.sheet });
})();
