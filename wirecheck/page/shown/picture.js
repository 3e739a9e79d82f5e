// The picture: shown in the size of its room, touched near enough, and marked.

const POINT = 4 / 3; // A point of the drawing in pixels of the page.
const STEP = 1.25;
const TALLEST = 0.6; // As in page.css.
const LEAST_ZOOM = 0.2;
const EDGE = 50; // What is nearer to the edge than this is brought to the middle.
const DRAGGED = 12; // Pixels that a hand does not slip in a click.
const AROUND = [0, 5, 10];
const WAYS = [[1, 0], [0, 1], [-1, 0], [0, -1], [0.7, 0.7], [-0.7, 0.7], [-0.7, -0.7], [0.7, -0.7]];
const SVG = "http://www.w3.org/2000/svg";

export function pictureIn(box, touched, resized) {
  let svg = null;
  let sizes = null;
  let zoom = 1;
  let marks = [];

  const wide = () => Math.max(150, box.clientWidth - 2);
  // A box that grows with what is in it is as high as it may get.
  const high = () => getComputedStyle(box).maxHeight === "none" ? box.clientHeight : innerHeight * TALLEST;

  function size() {
    if (!svg) return;
    const fit = Math.max(sizes.least * POINT, Math.min(sizes.width * POINT, wide()));
    svg.style.width = `${fit * zoom}px`;
    svg.style.height = "auto";
  }

  // What stays where it is on the screen when another picture comes, as far as the box scrolls: what is marked,
  // else what is in the middle.
  function anchor() {
    if (!svg) return [];
    const {left, right, top, bottom} = box.getBoundingClientRect();
    const inside = ({x, y}) => x >= left && x <= right && y >= top && y <= bottom;
    const [x, y] = [(left + right) / 2, (top + bottom) / 2];
    const far = ({at}) => Math.hypot(at.x - x, at.y - y);
    const named = [...svg.querySelectorAll("g[id^=room-], g[id^=device-]")];
    const rest = named.map((element) => ({id: element.id, at: element.getBoundingClientRect()}))
      .sort((one, other) => far(one) - far(other));
    const marked = marks.flatMap(({ids}) => ids.filter(part).slice(0, 1))
      .filter((id) => /^(terminal|label|device)-/.test(id))
      .map((id) => ({id, at: part(id).getBoundingClientRect()}));
    return [...marked, ...rest].filter(({at}) => inside(at));
  }

  function keep(held) {
    const still = held.find(({id}) => part(id));
    if (!still) return;
    const now = part(still.id).getBoundingClientRect();
    box.scrollBy(now.x - still.at.x, now.y - still.at.y);
  }

  function show(picture) {
    const read = new DOMParser().parseFromString(picture.svg, "image/svg+xml").documentElement;
    const [left, top] = [box.scrollLeft, box.scrollTop];
    const held = anchor();
    svg = document.importNode(read, true);
    svg.setAttribute("role", "img");
    svg.setAttribute("aria-label", "Wiring diagram of the board. The text says the same.");
    sizes = picture;
    size();
    box.replaceChildren(svg);
    box.scrollTo(left, top);
    keep(held);
    draw();
    return svg;
  }

  const part = (id) => svg?.querySelector(`[id="${CSS.escape(id)}"]`) ?? null;

  // A ring around a part, with a letter where it is a lead of the meter.
  function ring(element, kind, letter) {
    const {x, y, width, height} = element.getBBox();
    const around = document.createElementNS(SVG, "rect");
    const values = {x: x - 3, y: y - 3, width: width + 6, height: height + 6, rx: 4};
    for (const [name, value] of Object.entries(values)) around.setAttribute(name, value);
    around.setAttribute("class", `ring ${kind}`);
    element.parentNode.append(around);
    if (!letter) return;
    const word = document.createElementNS(SVG, "text");
    word.setAttribute("x", x + width / 2);
    word.setAttribute("y", y - 6);
    word.setAttribute("class", `lead ${kind}`);
    word.textContent = letter;
    element.parentNode.append(word);
  }

  function draw() {
    if (!svg) return;
    for (const old of svg.querySelectorAll(".ring, .lead")) old.remove();
    for (const old of svg.querySelectorAll(".marked")) old.classList.remove("marked");
    for (const {ids, kind, letter} of marks) {
      const element = ids.map(part).find(Boolean);
      if (!element) continue;
      const casing = part(`casing-${element.id}`);
      if (casing) casing.classList.add("marked");
      if (!casing || letter) ring(element, kind, letter);
    }
  }

  // What is drawn at a point of the window, from the top down.
  function at(x, y) {
    const ids = [];
    for (const element of document.elementsFromPoint(x, y)) {
      if (!box.contains(element)) continue;
      const group = element.closest("g[id]");
      if (group) ids.push(group.id.replace(/^casing-/, ""));
    }
    return ids;
  }

  // The nearest part that is wanted: a wire is thin, and a finger is not.
  function near(x, y, wanted) {
    for (const far of AROUND) {
      for (const [across, down] of far ? WAYS : [[0, 0]]) {
        const found = at(x + far * across, y + far * down).find(wanted);
        if (found) return found;
      }
    }
    return null;
  }

  // Scroll a part into the middle of the box, where it is not well inside.
  function bring(element) {
    const [inner, outer] = [element.getBoundingClientRect(), box.getBoundingClientRect()];
    const apart = (from, to, low, high) =>
      (from < low + EDGE || to > high - EDGE ? (from + to) / 2 - (low + high) / 2 : 0);
    box.scrollBy(
      apart(inner.left, inner.right, outer.left, outer.right),
      apart(inner.top, inner.bottom, outer.top, outer.bottom),
    );
  }

  // What is looked at stays where it is.
  function zoomTo(value) {
    const held = anchor();
    zoom = Math.min(6, Math.max(LEAST_ZOOM, value));
    size();
    keep(held);
  }

  // All of it where its width fits already.
  function fitting() {
    const {height} = svg?.getBoundingClientRect() ?? {height: 0};
    return zoom === 1 && height > box.clientHeight ? box.clientHeight / height : 1;
  }

  // A mouse that is dragged touches where it goes down and where it comes up; a finger moves the picture.
  const touchAt = ({clientX, clientY}, begins) => touched((wanted) => near(clientX, clientY, wanted), begins);
  let down = null;
  box.addEventListener("pointerdown", (event) => {
    down = event.pointerType === "mouse" && event.button === 0 ? event : null;
  });
  box.addEventListener("click", (click) => {
    if (down && Math.hypot(click.clientX - down.clientX, click.clientY - down.clientY) > DRAGGED) touchAt(down, true);
    down = null;
    touchAt(click, false);
  });
  // Its buttons stand beside it, where it has any.
  const sizing = {larger: () => zoom * STEP, smaller: () => zoom / STEP, fit: fitting};
  for (const [name, to] of Object.entries(sizing)) {
    box.closest("section").querySelector(`#${name}`)?.addEventListener("click", () => zoomTo(to()));
  }
  let before = wide();
  new ResizeObserver(() => {
    size();
    if (Math.abs(wide() - before) > 40) {
      before = wide();
      resized();
    }
  }).observe(box);

  return {
    show,
    // The room for a picture, in points.
    room: () => ({width: wide() / POINT, height: high() / POINT}),
    // Mark parts: a list of {ids, kind, letter}, of whose ids the first that is drawn counts.
    mark(wanted) {
      marks = wanted;
      draw();
    },
    // Bring the first of some parts that is drawn into view.
    reveal(ids) {
      const element = ids.map(part).find(Boolean);
      if (!element) return;
      bring(element);
      box.scrollIntoView({block: "nearest"});
    },
    // The same inside the box alone: what is pressed beside it stays under the finger.
    follow(id) {
      const element = part(id);
      if (element) bring(element);
    },
  };
}
