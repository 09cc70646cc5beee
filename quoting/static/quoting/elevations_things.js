// What one wall of a room shows, and how it moves: the server's shape comes in; boxes and texts for the form go out.
// A box is [left, low, right, high] in inches, as seen from the room. Nothing is drawn and nothing is written here.
"use strict";
window.elevationsThings = (() => {
  const [left, low, right, high] = [0, 1, 2, 3];
  const near = 1e-3, least = 2, lowest = 60, highest = 360;
  // The form's name of each measure, by list.
  const names = {
    openings: { offset: "offset", low: "sill", width: "width", height: "height" },
    niches: { offset: "offset", low: "bottom", width: "width", height: "height" },
    fixtures: { offset: "offset", width: "width", height: "height" },
    half_walls: { offset: "offset", width: "thickness", height: "height" },
  };
  const words = { cased: "cased opening" };
  const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);
  const clamp = (value, from, to) => Math.max(from, Math.min(value, Math.max(from, to)));

  // A shape with the rows of the form, which the server closes up; at is null for what has none. What the server could
  // not read just now stays as it was before.
  function located(shape, rowsOf, before) {
    const rows = {}, at = ({ list, row }) => (row === null ? null : (rows[list] ??= rowsOf(list))[row]);
    const lost = new Set(shape.unread.map(([list, row]) => `${list}:${at({ list, row })}`)), lists = shape.unread.map(([list]) => list);
    const walls = shape.walls.map((wall, place) => {
      const old = before?.walls[place], stays = ({ list }) => Boolean(old) && lists.includes(list);
      const things = wall.things.map((thing) => ({ ...thing, at: at(thing) })), edges = wall.edges.map((edge) => ({ ...edge, at: at(edge) }));
      return { ...wall, things: [...things, ...(old?.things || []).filter((thing) => lost.has(`${thing.list}:${thing.at}`))],
        edges: [...edges.filter((edge) => !stays(edge)), ...(old?.edges || []).filter(stays)] };
    });
    return { ...shape, walls, lost, loose: shape.loose.map((row) => at({ list: "niches", row })) };
  }

  // A wall's parts with keys that stay the same from answer to answer.
  function itemsOf(wall, ceiling) {
    const seen = {}, keyed = (key) => { seen[key] = (seen[key] || 0) + 1; return seen[key] > 1 ? `${key}:${seen[key]}` : key; };
    const things = wall.things.map((thing) => {
      const name = thing.list === "niches" ? `niche ${thing.number}` : words[thing.kind] || thing.kind;
      return { ...thing, name, key: thing.at === null ? "" : keyed(`${thing.list}:${thing.at}`) };
    });
    const edges = wall.edges.map((edge) => {
      if (edge.list === "finishes") return { ...edge, is_edge: true, key: keyed("finishes"), zone: "finishes", name: "wainscot" };
      const zone = `wet:${edge.around || edge.at}`;
      return { ...edge, zone, is_edge: true, key: keyed(zone), name: edge.around ? `wet wall of the ${edge.around}` : "wet wall" };
    });
    const top = { list: "ceiling", is_edge: true, key: "ceiling", name: "ceiling", at: null, box: [0, 0, wall.length, ceiling] };
    return { things, edges: ceiling === null ? edges : [...edges, top] };
  }

  const ceilingAt = (wall, x) => wall.left + ((wall.right - wall.left) * x) / wall.length;
  const offsetOf = (wall, box) => (wall.is_mirrored ? wall.length - box[right] : box[left]);

  // What a dragged edge falls in with: of all that stands still on the wall, along it or up it.
  function linesOf(wall, item, boxes, axis) {
    const others = boxes.filter(([key]) => key !== item.key).map(([, box]) => box);
    return others.flatMap((box) => [box[axis], box[axis + 2]]).concat(axis ? [0] : [0, wall.length]);
  }
  // By how much to move so that one of the edges meets a line, when one is near enough; else null.
  function pulled(edges, lines, pull) {
    const ways = edges.flatMap((edge) => lines.map((line) => line - edge)).filter((way) => Math.abs(way) <= pull);
    return ways.length ? ways.reduce((best, way) => (Math.abs(way) < Math.abs(best) ? way : best)) : null;
  }

  // The box after its part ("body", "left", "right", "low", "high") was moved by [x, y]. step: { pull, units, fine },
  // or nothing when keys move it by exactly this much.
  function moved(wall, item, part, [x, y], boxes, step) {
    const { box } = item, made = [...box], can = (what) => item.can.includes(what), mirrored = wall.is_mirrored;
    // To a line that is near, or else so that the measure which the form shows lies on the grid; it grows by sign.
    const settle = (edges, axis, way, measure, sign = 1) => {
      if (!step) return way;
      const drawn = step.fine ? null : pulled(edges.map((edge) => edge + way), linesOf(wall, item, boxes, axis), step.pull);
      return drawn === null ? sign * (lengths.snap(measure + sign * way, step.units, !step.fine) - measure) : way + drawn;
    };
    const [wide, tall] = [box[right] - box[left], box[high] - box[low]], offset = offsetOf(wall, box), away = mirrored ? -1 : 1;
    if (part === "body" && can("offset")) {
      made[left] = clamp(box[left] + settle([box[left], box[right]], 0, x, offset, away), 0, wall.length - wide);
      made[right] = made[left] + wide;
    }
    if (part === "body" && can("low")) {
      const most = Math.min(ceilingAt(wall, made[left]), ceilingAt(wall, made[right]));
      made[low] = clamp(box[low] + settle([box[low], box[high]], 1, y, box[low]), 0, most - tall);
      made[high] = made[low] + tall;
    }
    if (part === "left") made[left] = clamp(box[left] + settle([box[left]], 0, x, mirrored ? wide : offset, away), 0, box[right] - least);
    if (part === "right") made[right] = clamp(box[right] + settle([box[right]], 0, x, mirrored ? offset : wide, away), box[left] + least, wall.length);
    if (part === "low") made[low] = clamp(box[low] + settle([box[low]], 1, y, box[low]), 0, box[high] - least);
    if (part === "high") {
      const by = settle([box[high]], 1, y, item.is_edge ? box[high] : tall);
      made[high] = clamp(box[high] + by, box[low] + least, topOf(wall, item, made));
    }
    return made;
  }
  // How high it can reach: under a slope an opening stays below it, tile goes up along it.
  function topOf(wall, item, box) {
    if (item.list === "ceiling") return highest;
    const ends = [ceilingAt(wall, box[left]), ceilingAt(wall, box[right])];
    return item.is_edge ? Math.max(...ends) : Math.min(...ends);
  }
  const partsOf = (item) => [
    ...(item.can.includes("width") ? ["left", "right"] : []), ...(item.can.includes("height") ? ["high"] : []),
    ...(item.can.includes("height") && item.can.includes("low") ? ["low"] : []),
  ];
  // An upper edge moves only up and down.
  function movedEdge(wall, item, y, boxes, step) {
    const made = moved(wall, { ...item, can: ["height"] }, "high", [0, y], item.list === "ceiling" ? [] : [...boxes, ["ceiling", [0, 0, wall.length, topOf(wall, item, item.box)]]], step);
    if (item.list === "ceiling") made[high] = Math.max(lowest, made[high]);
    return made;
  }

  // Names of the form's fields and what to write there for a box that was changed; textOf says inches.
  function writing(wall, item, before, after, textOf) {
    const at = `${item.list}[${item.at}].`, own = names[item.list], texts = [];
    const differs = (one, other) => Math.abs(one - other) > near;
    const aside = differs(before[left], after[left]) || differs(before[right], after[right]);
    const up = differs(before[low], after[low]) || differs(before[high], after[high]);
    const unplaced = !item.is_noted && item.list === "niches" && (aside || up);
    if (differs(offsetOf(wall, before), offsetOf(wall, after)) || (aside && !item.is_noted) || unplaced) {
      texts.push([at + own.offset, textOf(Math.max(0, offsetOf(wall, after)))]);
    }
    if (own.low && (differs(before[low], after[low]) || unplaced)) texts.push([at + own.low, textOf(after[low])]);
    const size = (box) => [box[right] - box[left], box[high] - box[low]];
    ["width", "height"].forEach((name, axis) => {
      if (differs(size(before)[axis], size(after)[axis])) texts.push([at + own[name], textOf(size(after)[axis])]);
    });
    if (unplaced) texts.push([`${at}wall`, wall.name]);
    return texts;
  }

  // What can be typed of it: label, the field's name, and the inches that hold while the field is empty.
  function measuresOf(wall, item) {
    const { box } = item, at = `${item.list}[${item.at}].`;
    if (item.is_edge) return [];
    const own = names[item.list], all = [
      ["From first corner", "offset", offsetOf(wall, box)], [item.list === "openings" ? "Sill" : "Bottom", "low", box[low]],
      [item.list === "half_walls" ? "Thickness" : "Width", "width", box[right] - box[left]], ["Height", "height", box[high] - box[low]],
    ];
    return all.filter(([, name]) => item.can.includes(name)).map(([label, name, inches]) => [label, at + own[name], inches]);
  }

  // What is said of it: to a screen reader, and after a move.
  function labelOf(wall, item, textOf) {
    const { box } = item, name = capital(item.name);
    if (item.is_edge) return `${name}, upper edge at ${textOf(box[high])}`;
    const size = `${textOf(box[right] - box[left])} by ${textOf(box[high] - box[low])}`;
    const place = item.is_noted ? "" : item.list === "niches" ? ", place not noted" : "";
    const up = box[low] > near ? `, ${textOf(box[low])} above the floor` : "";
    return `${name} on wall ${wall.name}, ${textOf(Math.max(0, offsetOf(wall, box)))} from its first corner${up}, ${size}${place}`;
  }

  // The middle of the widest stretch of wall where nothing is in the way of a thing so wide; its left edge.
  function freeLeft(wall, boxes, wide) {
    const ends = [[0, 0], ...boxes.map((box) => [box[left], box[right]]).sort((a, b) => a[0] - b[0]), [wall.length, wall.length]];
    let reach = 0, best = [0, -1];
    for (const [from, to] of ends) {
      if (from - reach > best[1]) best = [reach, from - reach];
      reach = Math.max(reach, to);
    }
    return clamp(best[0] + (best[1] - wide) / 2, 0, wall.length - wide);
  }

  return { located, itemsOf, moved, movedEdge, partsOf, writing, measuresOf, labelOf, freeLeft, ceilingAt, offsetOf, capital };
})();
