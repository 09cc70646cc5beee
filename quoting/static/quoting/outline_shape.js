// The geometry of a drawn room, in inches: a shape comes in, a changed shape goes out, nothing is written.
// A shape has corners [x, y] in order, and fixtures and openings with wall (its place), offset, width, depth.
"use strict";
window.outlineShape = (() => {
  const near = 1e-4, shortest = 1, step = 12, mostCorners = 26;
  const nameOf = (place) => String.fromCharCode(65 + place);
  const around = (place, count) => (place + count) % count;
  const copyOf = (shape) => JSON.parse(JSON.stringify(shape));
  const doubleArea = (corners) => corners.reduce((sum, [x, y], place) => {
    const [nextX, nextY] = corners[around(place + 1, corners.length)];
    return sum + x * nextY - nextX * y;
  }, 0);

  // along: the way from the wall's first corner; inward: into the room.
  function wallsOf(corners) {
    const hand = doubleArea(corners) > 0 ? 1 : -1;
    return corners.map((start, place) => {
      const end = corners[around(place + 1, corners.length)];
      const run = [end[0] - start[0], end[1] - start[1]], length = Math.hypot(...run) || near;
      const along = [run[0] / length, run[1] / length];
      return { place, name: nameOf(place), start, end, length, along, inward: [-along[1] * hand, along[0] * hand] };
    });
  }
  const at = (wall, reach, out = 0) =>
    [0, 1].map((axis) => wall.start[axis] + wall.along[axis] * reach + wall.inward[axis] * out);
  // 0 for a wall from left to right, 1 for one up or down, -1 for a slanted one.
  const axisOf = (wall) => (Math.abs(wall.along[1]) < near ? 0 : Math.abs(wall.along[0]) < near ? 1 : -1);

  const side = (a, b, c) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
  const within = (a, b, c) => [0, 1].every((axis) =>
    Math.min(a[axis], b[axis]) - near <= c[axis] && c[axis] <= Math.max(a[axis], b[axis]) + near);
  function meet(one, other) {
    const [a, b, c, d] = [one.start, one.end, other.start, other.end];
    if (side(a, b, c) * side(a, b, d) < -near && side(c, d, a) * side(c, d, b) < -near) return true;
    return [[a, b, c], [a, b, d], [c, d, a], [c, d, b]].some(([p, q, r]) => Math.abs(side(p, q, r)) < near && within(p, q, r));
  }
  // Whether the corners enclose a room: no wall under 1 in, none that crosses, touches or doubles back.
  function isSound(corners) {
    const walls = wallsOf(corners), count = walls.length;
    if (Math.abs(doubleArea(corners)) < near || walls.some((wall) => wall.length < shortest)) return false;
    return walls.every((wall) => walls.every((other) => {
      const apart = around(other.place - wall.place, count);
      if (apart === 0) return true;
      if (apart === 1) return wall.along[0] * other.along[0] + wall.along[1] * other.along[1] > near - 1;
      return apart === count - 1 || !meet(wall, other);
    }));
  }

  // Corners move together along walls that are to stay level or upright.
  function slide(corners, walls, from, axis, value) {
    const count = corners.length;
    corners[from][axis] = value;
    for (const way of [1, -1]) {
      let place = from;
      for (let steps = 1; steps < count; steps += 1) {
        const wall = walls[way === 1 ? place : around(place - 1, count)];
        if (axisOf(wall) !== 1 - axis) break;
        place = around(place + way, count);
        corners[place][axis] = value;
      }
    }
  }
  // square: walls at right angles stay so, and their far ends come along.
  function moveCorner(shape, place, [x, y], square = true) {
    const moved = copyOf(shape), walls = wallsOf(shape.corners);
    if (square) [x, y].forEach((value, axis) => slide(moved.corners, walls, place, axis, value));
    else moved.corners[place] = [x, y];
    return moved;
  }
  // by: inches along the wall's inward side.
  function moveWall(shape, place, by, square = true) {
    const wall = wallsOf(shape.corners)[place], to = at(wall, 0, by);
    if (square && axisOf(wall) >= 0) return moveCorner(shape, place, to);
    const moved = copyOf(shape);
    moved.corners[place] = to;
    moved.corners[around(place + 1, shape.corners.length)] = at(wall, wall.length, by);
    return moved;
  }
  // The wall becomes this long: its end goes on, and with it what stands square to it.
  function setLength(shape, place, length) {
    const wall = wallsOf(shape.corners)[place];
    return moveCorner(shape, around(place + 1, shape.corners.length), at(wall, length));
  }

  // walls: the new place of each old wall. Things beyond `from` on a cut wall go to its second part.
  function withWalls(shape, corners, walls, moveOn) {
    const made = { ...copyOf(shape), corners, renamed: walls };
    for (const thing of [...made.fixtures, ...made.openings]) {
      if (thing.wall === null) continue;
      const old = thing.wall;
      const start = thing.offset;
      thing.wall = walls[old];
      moveOn(thing, old);
      if (thing.offset === start) continue;
      thing.offset = Math.max(0, Math.min(thing.offset, wallsOf(corners)[thing.wall].length - thing.width));
      thing.is_placed = true;
    }
    return made;
  }
  const isOn = (shape, place, from, to) => [...shape.fixtures, ...shape.openings].some((thing) =>
    thing.wall === place && thing.offset + thing.width / 2 > from && thing.offset + thing.width / 2 < to);

  // A corner in the middle of a wall. square: the freer half steps back, so two corners come in. null: no room.
  function addCorner(shape, place, square, units) {
    const wall = wallsOf(shape.corners)[place], count = shape.corners.length, more = square ? 2 : 1;
    if (count + more > mostCorners) return null;
    const middle = lengths.snap(wall.length / 2, units, true), after = shape.corners.slice(place + 1), before = shape.corners.slice(0, place + 1);
    const cut = (corners) => withWalls(shape, corners, shape.corners.map((_, old) => (old > place ? old + more : old)), (thing, old) => {
      if (old !== place || thing.offset + thing.width / 2 < middle) return;
      thing.wall += more;
      thing.offset -= middle;
    });
    if (!square) return cut([...before, at(wall, middle), ...after]);
    const halves = isOn(shape, place, middle, wall.length) ? [0, 1] : [1, 0];
    for (const by of [step, step / 2, -step]) {
      for (const half of halves) {
        const back = lengths.snap(by, units), moved = moveWall(shape, place, back).corners;
        const kept = shape.corners, next = around(place + 1, count);
        const corners = (half ? [...kept.slice(0, place + 1), at(wall, middle), at(wall, middle, back), ...kept.slice(place + 1)]
          : [...kept.slice(0, place), moved[place], at(wall, middle, back), at(wall, middle), ...kept.slice(place + 1)]);
        if (half) corners[next === 0 ? 0 : next + more] = moved[next];
        if (isSound(corners)) return cut(corners);
      }
    }
    return null;
  }

  // Without the corner; square: without the shorter wall beside it, and its two neighbours become one. null: no room.
  function removeCorner(shape, place, square) {
    const walls = wallsOf(shape.corners), count = walls.length, before = walls[around(place - 1, count)];
    const gone = before.length < walls[place].length ? before : walls[place];
    const first = walls[around(gone.place - 1, count)], last = walls[around(gone.place + 1, count)];
    const level = axisOf(first), whole = square && level >= 0 && level === axisOf(last) && axisOf(gone) === 1 - level;
    if (whole ? count < 6 : count < 4 || square && count === 4) return null;
    const out = whole ? [gone.place, last.place] : [place], start = whole ? first : before;
    const corners = copyOf(shape.corners);
    if (whole) {
      const line = (first.length < last.length ? last : first).start[1 - level];
      slide(corners, walls, first.place, 1 - level, line);
      slide(corners, walls, around(last.place + 1, count), 1 - level, line);
    }
    const places = corners.map((_, old) => old).filter((old) => !out.includes(old));
    const joined = places.map((old) => corners[old]);
    if (!isSound(joined)) return null;
    const moved = walls.map((wall) => places.indexOf(out.includes(wall.place) ? start.place : wall.place));
    return withWalls(shape, joined, moved, (thing, old) => {
      if (!out.includes(old)) return;
      const from = walls[old].start;
      thing.offset += Math.abs((from[0] - start.start[0]) * start.along[0] + (from[1] - start.start[1]) * start.along[1]);
    });
  }

  // Width and length when the corners are a rectangle from its lower left, wall A below; else null.
  function rectangleOf(corners) {
    const headings = [[1, 0], [0, 1], [-1, 0], [0, -1]], walls = wallsOf(corners);
    const fits = corners.length === 4 && walls.every((wall, place) =>
      [0, 1].every((axis) => Math.abs(wall.along[axis] - headings[place][axis]) < near));
    return fits ? [walls[0].length, walls[1].length] : null;
  }
  // No corner left of or below the place that they are measured from; a rectangle starts there.
  function lifted(corners) {
    const most = rectangleOf(corners) ? Infinity : 0;
    const least = [0, 1].map((axis) => Math.min(most, ...corners.map((corner) => corner[axis])));
    return corners.map((corner) => corner.map((value, axis) => value - least[axis]));
  }
  const footprint = (wall, thing) => [[0, 0], [thing.width, 0], [thing.width, thing.depth], [0, thing.depth]]
    .map(([reach, out]) => at(wall, thing.offset + reach, out));

  return { nameOf, wallsOf, axisOf, at, isSound, moveCorner, moveWall, setLength, addCorner, removeCorner,
    rectangleOf, lifted, footprint, copyOf };
})();
