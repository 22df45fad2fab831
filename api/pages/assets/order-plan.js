// The plan of the order page: walls hatched, the front edge heavy, measures outside, openings by name, and in thin lines what stands below.
// It draws what POST /v1/order-form/estimates says, and what was refused of openings and below where the form has it.

const drawn = (name, attributes = {}, ...children) => {
  const node = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [attribute, value] of Object.entries(attributes)) node.setAttribute(attribute, value);
  node.append(...children);
  return node;
};

const minus = ([x, y], [u, v]) => [x - u, y - v];
const plus = ([x, y], [u, v], by = 1) => [x + u * by, y + v * by];
const dot = ([x, y], [u, v]) => x * u + y * v;
const halfway = ([x, y], [u, v]) => [(x + u) / 2, (y + v) / 2];
const unit = (v) => { const l = Math.hypot(...v) || 1; return [v[0] / l, v[1] / l]; };

// middle is the centroid of a polygon.
function middle(points) {
  let area = 0, x = 0, y = 0;
  points.forEach(([x0, y0], i) => {
    const [x1, y1] = points[(i + 1) % points.length], cross = x0 * y1 - x1 * y0;
    area += cross;
    x += (x0 + x1) * cross;
    y += (y0 + y1) * cross;
  });
  return area ? [x / (3 * area), y / (3 * area)] : points[0];
}

function inside(polygon, [x, y]) {
  let is = false;
  polygon.forEach(([x0, y0], i) => {
    const [x1, y1] = polygon[(i + 1) % polygon.length];
    if (y0 > y !== y1 > y && x < x0 + ((x1 - x0) * (y - y0)) / (y1 - y0)) is = !is;
  });
  return is;
}

// frames are the sides' own axes, on paper: where the wall begins at the left, along it, and from it into the room.
function frames(plan) {
  return plan.sides.map((side, i) => {
    const [left, right] = side.wall;
    const along = unit(minus(right, left));
    let room = [-along[1], along[0]];
    if (dot(minus(middle(plan.pieces[i]), left), room) < 0) room = [-room[0], -room[1]];
    return { left, right, along, room };
  });
}

// typedOpening is an opening as the form has it, which the service did not lay out: in the side's own measures.
export function typedOpening(plan, { side, long, deep, fromLeft, fromFront }, sideDeep) {
  const frame = frames(plan)[side - 1];
  if (!frame) return null;
  const front = sideDeep - (fromFront ?? (sideDeep - deep) / 2), back = front - deep;
  const at = (along, room) => plus(plus(frame.left, frame.along, along), frame.room, room);
  return [at(fromLeft, front), at(fromLeft + long, front), at(fromLeft + long, back), at(fromLeft, back)];
}

// paper puts a point as one sees it who faces the first side's wall: turned by half against the plan's axes, as y goes down on paper.
const paper = ([x, y]) => [-x, y];

// draw fills the box with the plan, one unit a pixel so that letters keep their size. Openings and what stands below have a name; what
// does not fit is dashed.
export function draw(box, plan, label) {
  const wide = box.clientWidth || 320, high = box.clientHeight || 240, small = wide < 300;
  const letters = small ? 11 : 13, wall = small ? 5 : 8, edge = letters * 1.5 + wall, sideways = letters * 2.6 + wall;
  const all = [...plan.outline, ...plan.pieces.flat(), ...plan.openings.flatMap(({ outline }) => outline), ...plan.base.filter(({ fits }) => !fits).flatMap(({ outline }) => outline)];
  const xs = all.map((p) => paper(p)[0]), ys = all.map((p) => paper(p)[1]);
  const x0 = Math.min(...xs), y0 = Math.min(...ys), w = Math.max(...xs) - x0 || 1, h = Math.max(...ys) - y0 || 1;
  const scale = Math.max(1e-6, Math.min((wide - 2 * sideways) / w, (high - 2 * edge) / h));
  const left = (wide - w * scale) / 2, up = (high - h * scale) / 2;
  const at = (p) => { const [x, y] = paper(p); return [left + (x - x0) * scale, up + (y - y0) * scale]; };
  const line = (points) => points.map((p) => at(p).map((n) => n.toFixed(1)).join(",")).join(" ");
  const svg = drawn("svg", { viewBox: `0 0 ${wide} ${high}`, role: "img", "aria-label": label });
  svg.append(drawn("defs", {}, drawn("pattern", { id: "hatch", width: 5, height: 5, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
    drawn("path", { d: "M0 0V5", class: "hatch" })), drawn("clipPath", { id: "top-outline" }, drawn("polygon", { points: line(plan.outline) }))));
  const write = ([x, y], text, name, size = letters) => {
    svg.append(drawn("text", { x: x.toFixed(1), y: y.toFixed(1), class: name, "font-size": size, "aria-hidden": "true" }, text));
  };
  // away is a label's middle, beyond a point: as far as its text is wide or high in that direction.
  const away = (point, towards, gap, text) => {
    const reach = gap + Math.abs(towards[0]) * text.length * letters * 0.31 + Math.abs(towards[1]) * letters * 0.62;
    const [x, y] = plus(point, towards, reach), half = text.length * letters * 0.31;
    return [Math.min(Math.max(x, half + 1), wide - half - 1), Math.min(Math.max(y, letters * 0.6), high - letters * 0.6)];
  };
  const direction = (v) => unit(minus(at(plus([0, 0], v)), at([0, 0])));
  const sides = frames(plan);

  for (const { left: a, right: b, room } of sides) {
    const out = direction([-room[0], -room[1]]), [p, q] = [at(a), at(b)];
    const band = [p, q, plus(q, out, wall), plus(p, out, wall)];
    svg.append(drawn("polygon", { class: "wall", points: band.map((n) => n.map((x) => x.toFixed(1)).join(",")).join(" ") }));
  }
  plan.pieces.forEach((points) => svg.append(drawn("polygon", { class: "piece", points: line(points) })));
  for (const { outline, kind, fits } of plan.base) {
    const clip = fits ? { "clip-path": "url(#top-outline)" } : {};
    svg.append(drawn("polygon", { class: fits ? "below " + kind : "refused", points: line(outline), ...clip }));
    if (fits && kind === "appliance") svg.append(drawn("path", { class: "below", d: `M${line([outline[0]])} L${line([outline[2]])} M${line([outline[1]])} L${line([outline[3]])}`, ...clip }));
  }
  svg.append(drawn("polygon", { class: "outline", points: line(plan.outline) }));
  if (plan.front.length) svg.append(drawn("polyline", { class: "front", points: line(plan.front) }));

  plan.openings.forEach(({ outline, name, fits }) => {
    svg.append(drawn("polygon", { class: fits ? "opening" : "refused", points: line(outline) }));
    const [a, b, c] = outline.map(at), room = Math.max(Math.abs(b[0] - a[0]), Math.abs(c[0] - b[0]), Math.abs(c[0] - a[0]));
    if (room > name.length * letters * 0.58) write(at(middle(outline)), name, fits ? "opening-name" : "refused-name");
  });

  for (const { outline: [a, b, c], name, fits } of plan.base) { // at the wall, where it has room
    const [p, q] = [at(a), at(b)], run = minus(q, p), deep = Math.hypot(...minus(at(c), q)), flat = Math.abs(run[0]) > Math.abs(run[1]);
    const size = Math.min(letters, 11), room = flat ? Math.abs(run[0]) : deep;
    if (deep < size * 3.2 || (flat ? 0 : Math.abs(run[1])) > 0 && Math.abs(run[1]) < size * 1.6 || name.length * size * 0.58 > room - 4) continue;
    write(plus(halfway(p, q), unit(minus(at(c), q)), flat ? size * 0.85 : 3 + name.length * size * 0.29), name, fits ? "below-name" : "refused-name", size);
  }

  sides.forEach(({ left: a, right: b, room }, i) => {
    const { long, deep } = plan.sides[i], out = direction([-room[0], -room[1]]);
    write(away(at(halfway(a, b)), out, wall + 3, long), long, "measure");
    const end = i === 0 ? plan.front[0] : i === sides.length - 1 ? plan.front[plan.front.length - 1] : null;
    if (end) {
      const [p, q] = Math.hypot(...minus(a, end)) < Math.hypot(...minus(b, end)) ? [a, b] : [b, a];
      write(away(at(halfway(end, p)), direction(minus(p, q)), 4, deep), deep, "measure");
    } else if (Math.hypot(...minus(at(plan.front[i]), at(plan.front[i + 1]))) > letters * 5) { // no end is free: across the side, a little off its middle
      const from = halfway(plan.front[i], plan.front[i + 1]), to = plus(from, room, -dot(minus(from, a), room));
      const [p, q] = [at(from), at(to)], run = direction(minus(b, a)), shift = letters * 1.3;
      const [p1, q1] = [plus(p, run, -shift), plus(q, run, -shift)];
      svg.append(drawn("path", { class: "across", d: `M${p1.map((n) => n.toFixed(1))} L${q1.map((n) => n.toFixed(1))}` }));
      write(plus(halfway(p1, q1), run, -letters * 0.4 - Math.abs(run[0]) * deep.length * letters * 0.3 - Math.abs(run[1]) * letters * 0.3), deep, "measure");
    }
    const holes = plan.openings.map(({ outline }) => outline.map(at));
    const piece = plan.pieces[i].map(at), centre = at(middle(plan.pieces[i])), run = direction(minus(b, a));
    const length = Math.hypot(...minus(at(b), at(a)));
    for (let step = 0; step < 40; step++) { // from the middle outwards, until no opening is in the way
      const spot = plus(centre, run, (step % 2 ? 1 : -1) * Math.ceil(step / 2) * (length / 40));
      if (inside(piece, spot) && !holes.some((hole) => near(hole, spot, letters))) {
        write(spot, String(i + 1), "number", small ? 13 : 15);
        break;
      }
    }
  });
  box.replaceChildren(svg);
}

// near says whether a point lies in a polygon or closer to its box than that.
function near(polygon, [x, y], by) {
  const xs = polygon.map((p) => p[0]), ys = polygon.map((p) => p[1]);
  return x > Math.min(...xs) - by && x < Math.max(...xs) + by && y > Math.min(...ys) - by && y < Math.max(...ys) + by;
}
