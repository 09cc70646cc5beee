// The fields of one room in the rooms form: a changed shape goes in as text, and comes out again by undo.
"use strict";
window.outlineFields = (() => {
  const { wallsOf, axisOf, rectangleOf, lifted, nameOf } = window.outlineShape;
  const near = 1e-3, mostRows = 20;
  const unseen = /\.tiled_under\b/;
  const keyOf = (inches) => Math.round(inches / near);
  const escaped = (text) => text.replace(/[.[\]]/g, "\\$&");

  // Names with something in them, as the form would be sent now.
  const filled = (form) => [...new FormData(form)].filter(([, text]) => typeof text === "string" && text.trim()).map(([name]) => name);
  // Which rooms of the form the server counts, in its order: those with anything in them.
  const placesOfRooms = (form) => [...new Set(filled(form).map((name) => /^rooms\[(\d+)\]\./.exec(name)?.[1]).filter(Boolean))]
    .map(Number).sort((a, b) => a - b);

  // base: "rooms[0]". Rows of a list are counted as the form has them; the server closes up empty ones.
  function fieldsOf(form, base) {
    const typed = new Map();
    // nth: among the controls of this name; an unseen list has one for each of its texts.
    const control = (name, nth = 0) => [...form.elements].filter((field) => field.name === `${base}.${name}`)[nth];
    const within = (list) => new RegExp(`^${escaped(`${base}.${list}`)}\\[(\\d+)\\]`);
    const controlsOf = (list) => [...form.elements].filter((field) => within(list).test(field.name));
    const rowsIn = (names, list) => [...new Set(names.map((name) => Number(within(list).exec(name)[1])))].sort((a, b) => a - b);
    const rowsOf = (list) => rowsIn(filled(form).filter((name) => within(list).test(name) && !unseen.test(name)), list);

    // One more row, like the last: the form itself would draw it only by going to the server.
    function makeRow(list) {
      const shown = controlsOf(list).filter((field) => field.type !== "hidden");
      const last = shown[shown.length - 1].closest(".entry"), from = Number(within(list).exec(shown[shown.length - 1].name)[1]);
      const row = last.cloneNode(true), marks = [[`${list}[${from}]`, `${list}[${from + 1}]`]];
      marks.push(marks[0].map((mark) => mark.replace(/[^a-z0-9]/gi, "-")));
      for (const part of [row, ...row.querySelectorAll("*")]) {
        for (const name of ["name", "id", "for", "aria-describedby"]) {
          const text = part.getAttribute(name);
          if (text) part.setAttribute(name, marks.reduce((done, [old, made]) => done.replace(old, made), text));
        }
        part.removeAttribute("autofocus");
        part.removeAttribute("aria-invalid");
        if (part.matches("input")) part.setAttribute("value", part.value = "");
        if (part.matches("select")) part.selectedIndex = 0;
      }
      row.querySelectorAll(".error").forEach((error) => error.remove());
      row.querySelectorAll(".wrong").forEach((field) => field.classList.remove("wrong"));
      const title = row.getAttribute("aria-label").replace(/\d+$/, from + 2);
      row.setAttribute("aria-label", title);
      row.querySelector(".entry-no").textContent = title;
      last.after(row);
      return from + 1;
    }
    function rowAt(list, place) {
      while (!controlsOf(list).some((field) => Number(within(list).exec(field.name)[1]) === place)) makeRow(list);
      return place;
    }
    // The first row with nothing in it; null when the list is full.
    function freeRow(list) {
      const taken = rowsOf(list);
      const place = [...taken.keys()].find((row) => !taken.includes(row)) ?? taken.length;
      return place < mostRows ? rowAt(list, place) : null;
    }

    // A typed text stays as it was typed wherever its length is meant; others are said anew.
    const remember = (text, units) => {
      const inches = lengths.read(text, units);
      if (!Number.isNaN(inches)) typed.set(keyOf(inches), text.trim());
    };
    const textOf = (inches, units) => typed.get(keyOf(inches)) || lengths.say(inches, units);
    function rememberAll(units) {
      for (const field of form.elements) {
        if (field.name?.startsWith(`${base}.`) && /\.(outline|fixtures|openings)\b/.test(field.name) && field.type === "text") remember(field.value, units);
      }
    }

    // Sets fields and notes what they were.
    function writer() {
      const changes = [];
      return {
        changes,
        set(name, text, nth = 0) {
          const field = control(name, nth);
          if (!field || field.value === text) return;
          changes.push([name, field.value, text, nth]);
          field.value = text;
        },
      };
    }
    function apply(changes, backwards) {
      for (const [name, before, after, nth] of backwards ? [...changes].reverse() : changes) {
        const list = /^(.*?)\[(\d+)\]/.exec(name);
        if (list) rowAt(list[1], Number(list[2]));
        const field = control(name, nth);
        if (field) field.value = backwards ? before : after;
      }
      announce(changes);
    }
    // The form asks for the price when a field says that it has changed.
    function announce(changes) {
      for (const [name] of changes) {
        const field = control(name);
        field?.closest("details")?.setAttribute("open", "");
        field?.dispatchEvent(new Event("change", { bubbles: true }));
      }
    }

    // Bring a field into sight, ready to be changed.
    function reveal(name) {
      control(name).closest("details")?.setAttribute("open", "");
      control(name).focus();
      control(name).scrollIntoView({ block: "center" });
    }

    const emptied = (put, list, from = 0, to = Infinity) => {
      for (const field of controlsOf(list)) {
        const row = Number(within(list).exec(field.name)[1]);
        if (row >= from && row <= to) put.set(field.name.slice(base.length + 1), "");
      }
    };
    // As width and length when it is such a rectangle, as walls while only their lengths changed, else as corners.
    function writeOutline(put, before, shape) {
      const corners = lifted(shape.corners), size = rectangleOf(corners), rows = rowsOf("outline.walls");
      const walls = wallsOf(corners), old = wallsOf(before.corners);
      const alike = walls.length === old.length && walls.every((wall, place) => axisOf(wall) >= 0 &&
        wall.along.every((part, axis) => Math.abs(part - old[place].along[axis]) < near));
      if (!size && rows.length === walls.length && alike) {
        walls.forEach((wall, place) => put.set(`outline.walls[${rows[place]}].length`, textOf(wall.length, shape.units)));
        return;
      }
      const [width, length] = size || [];
      put.set("outline.width", size ? textOf(width, shape.units) : "");
      put.set("outline.length", size ? textOf(length, shape.units) : "");
      emptied(put, "outline.walls");
      emptied(put, "outline.corners", size ? 0 : corners.length);
      if (!size) corners.forEach((corner, place) => corner.forEach((value, axis) => {
        rowAt("outline.corners", place);
        put.set(`outline.corners[${place}][${axis}]`, textOf(value, shape.units));
      }));
    }
    // Letters of walls wherever the room's fields name them, after corners came in or went out.
    function rename(put, renamed) {
      const letter = (text) => {
        const to = text.length === 1 ? renamed[text.toUpperCase().charCodeAt(0) - 65] : undefined;
        return to === undefined ? text : nameOf(to);
      };
      for (const field of form.elements) {
        if (!field.name?.startsWith(`${base}.`) || field.name.startsWith(`${base}.outline`)) continue;
        const name = field.name.slice(base.length + 1), nth = [...form.elements].filter((one) => one.name === field.name).indexOf(field);
        if (/\.(wall|low_wall|walls(\[\d+\])?)$/.test(name)) put.set(name, field.value.replace(/\b[a-z]\b/gi, letter), nth);
        if (/\.surface$/.test(name)) put.set(name, field.value.replace(/^(wall-)([a-z])\b/, (_, start, one) => start + letter(one).toLowerCase()), nth);
      }
    }
    function writeThing(put, list, before, thing, units) {
      const at = `${list}[${thing.at}]`;
      if (!before) put.set(`${at}.kind`, thing.kind);
      if (thing.wall !== null) put.set(`${at}.wall`, nameOf(thing.wall));
      const measures = ["width", "depth", "height"].filter((name) => name in thing);
      if (thing.is_placed) measures.push("offset");
      for (const name of measures) {
        if (!before || Math.abs(before[name] - thing[name]) > near || (name === "offset" && !before.is_placed)) put.set(`${at}.${name}`, textOf(thing[name], units));
      }
    }
    // Write what differs. The changes, each [name, text before, text after, nth].
    function write(before, shape) {
      const put = writer();
      rememberAll(shape.units);
      if (JSON.stringify(before.corners) !== JSON.stringify(shape.corners)) writeOutline(put, before, shape);
      if (shape.renamed) rename(put, shape.renamed);
      for (const list of ["fixtures", "openings"]) {
        for (const gone of before[list].filter((old) => !shape[list].some((thing) => thing.at === old.at))) {
          emptied(put, list, gone.at, gone.at);
        }
        for (const thing of shape[list]) writeThing(put, list, before[list].find((old) => old.at === thing.at), thing, shape.units);
      }
      announce(put.changes);
      return put.changes;
    }

    return { rowsOf, freeRow, remember, rememberAll, textOf, control, reveal, write, apply };
  }

  return { fieldsOf, placesOfRooms };
})();
