// Placing by hand: what is put on the board, or changed there. What that makes of the text is the server's to say.

import {by, made} from "./dom.js";

const MOST = 40; // Of the parts that are found, so many are shown.
const SIZES = ["14/2 NM-B", "14/3 NM-B", "12/2 NM-B", "12/3 NM-B", "10/2 NM-B", "10/3 NM-B", "6/3 NM-B",
  "18/2 CL2", "18/5 CL2", "18/8 CL2"];
const SOME = {
  panel: ["120/240 V", "120 V", "208Y/120 V"],
  available: ["10 kA", "5 kA", "22 kA"],
  main: ["", "40 A", "60 A", "100 A"],
  breaker: ["15 A", "20 A", "30 A 2-pole", "40 A 2-pole", "15 A afci", "20 A gfci"],
  box: ["device", "octagon", "square", "junction"],
  volume: ["20.3 cu in", "18 cu in", "34 cu in", "15.5 cu in", "21.5 cu in", "21 cu in", "30.3 cu in"],
  length: ["10 ft", "20 ft", "30 ft"],
  raceway: ["EMT 1/2 in", "EMT 3/4 in", "EMT 1 in", "PVC 1/2 in", "PVC 3/4 in", "FMC 1/2 in", "LFNC 1/2 in"],
  wire: ["12 THHN", "14 THHN", "10 THHN", "8 THHN", "12 THWN", "10 THWN"],
};
// What a box of a kind holds, as such boxes are sold: NEC 2023, table 314.16(A), and common practice.
const HOLDS = {device: "20.3 cu in", octagon: "15.5 cu in", square: "21 cu in", junction: "30.3 cu in"};
const RUNS = ["cable", "raceway", "wire"]; // What leads from one place to another.
const FOR = {
  panel: "A panel feeds the board. A board begins with one.",
  subpanel: "A panel that another feeds, by a 2-pole breaker there and a cable of both hots, a neutral and a ground.",
  breaker: "A breaker in a panel, for one circuit.",
  box: "A box, in which devices are and wires are joined.",
  device: "Find a part, say in which box it is, and place it. A touch on the picture chooses the box.",
  cable: "A cable from one place to another. Two touches on the picture choose the places.",
  raceway: "A pipe from one place to another, into which single wires are pulled. Two touches choose the places.",
  wire: "One wire, in a raceway or within a box. A touch on a raceway chooses it, with its places and its length.",
  room: "What kind of place a box is in: the code asks more of some. A touch on the picture chooses the box.",
  goal: "What the board is for: what works a light or a machine, what has power at all times, what stops a machine.",
  value: "Touch what you mean in the picture, or choose it here.",
};

// What is to be said of what the board is for, by its kind.
const TO = {
  load: [["run from", ""], ["have power at all times", "live"]],
  outlet: [["have power at all times", "live"], ["have power from", ""]],
  safety: [["stop", "stops"]],
};
const WORKED = ["switch", "motion", "daylight"]; // By hand, by who is in the room, and by day and night.

export function placingOf(ask, changed, load) {
  const fields = by("fields");
  const unanswered = {things: []};
  let answer = unanswered;
  let parts = null;
  let part = "";
  let ends = 0;
  let built = "";
  let where = null; // Where the device goes that is placed next, if that was said.
  const homes = new Map(); // Where the last one went, of those with a case of their own and of the others.
  let did = ""; // What was asked for last.
  let stated = ""; // What the fields say that something works.
  let picked = ""; // Of what can be said to work, what was chosen.
  let coming = false;

  const what = () => document.querySelector("input[name=what]:checked").value;
  const named = (...kinds) => answer.things.filter((one) => kinds.includes(one.what)).map((one) => one.name);
  const panels = () => named("panel", "subpanel");
  const places = () => [...panels(), ...named("box"), ...answer.things
    .filter((one) => one.what === "device" && !("box" in one.values)).map((one) => one.name)];
  const purposes = () => answer.purposes ?? [];
  const seen = () => JSON.stringify([answer.things, answer.purposes, answer.calls]);

  // What can work a load: a call, what is moved by hand, or a control other than its own.
  function ways(load) {
    const calls = answer.calls?.length ? [...answer.calls, "idle"] : [];
    const moved = (worked) => [...new Set((answer.controls ?? [])
      .filter((one) => WORKED.includes(one.kind) === worked && !["safety", "protection"].includes(one.kind))
      .map((one) => one.device))].filter((one) => named("device").includes(one));
    const hands = moved(true);
    const controls = moved(false).filter((one) => one !== load.split(".")[0]);
    return [...new Set([...calls, hands.join(", "), ...hands, ...controls])].filter(Boolean);
  }

  // What a safety can stop: what runs in the same machine comes first.
  function stopped(safety) {
    const loads = purposes().filter((one) => one.kind === "load").map((one) => one.name);
    const own = loads.filter((one) => one.split(".")[0] === safety.split(".")[0]);
    return [...new Set([own.join(", "), ...own, ...loads])].filter(Boolean);
  }

  const field = (name) => fields.querySelector(`[name=${name}]`);

  // A field with words that may be written, and a list of some beside it: all of them, whatever is written.
  function written(label, name, some, value = some[0] ?? "") {
    const input = made("input", {name, defaultValue: value, type: "text", spellcheck: false});
    const whole = made("span", {className: "with-offers"}, made("label", {}, `${label} `, input));
    if (some.length < 2) return whole;
    const list = made("select", {className: "offers", ariaLabel: `${label}: some to choose from`},
      made("option", {value: ""}, ""), ...some.map((one) => made("option", {value: one}, one)));
    list.addEventListener("change", () => {
      if (list.value) input.value = list.value;
      list.value = "";
    });
    whole.append(list);
    return whole;
  }

  function chosen(label, name, some, value) {
    const select = made("select", {name}, ...some.map(([words, one]) => made("option", {value: one}, words)));
    if (some.some(([, one]) => one === value)) select.value = value;
    return made("label", {}, `${label} `, select);
  }

  const colors = () => [...by("color").options].filter((one) => one.value).map((one) => one.value);
  const rooms = () => by("placing").dataset.rooms.split(" ");

  // What leads from a place to another: how it is called, its length, and the two.
  const run = (label, some, was, ...more) => [written(label, "kind", some, was.kind || some[0]), ...more,
    written("Length", "size", SOME.length, was.size || SOME.length[0]),
    chosen("From", "place", alike(places()), was.place), chosen("To", "to", alike(places()), was.to ?? places().at(-1)),
    button("Place it")];

  // A wire begins and ends where its raceway does, and is as long.
  function inside() {
    const way = answer.things.find((one) => one.name === field("within").value);
    if (!way) return;
    [field("place").value, field("to").value] = way.ends;
    field("size").value = way.values.length;
  }

  function within(was) {
    const label = chosen("In", "within", [["no raceway", ""], ...alike(named("raceway"))], was.within);
    label.querySelector("select").addEventListener("change", inside);
    return label;
  }

  const alike = (names) => names.map((name) => [name, name]);
  const button = (words) => made("button", {type: "submit"}, words);

  function build() {
    const kind = what();
    // What was chosen stays chosen where the fields are the same ones.
    const same = kind === built;
    const was = same ? Object.fromEntries([...fields.querySelectorAll("[name]")].map((one) => [one.name, one.value]))
      : {};
    built = kind;
    by("what-for").textContent = FOR[kind];
    by("shelf").hidden = kind !== "device";
    if (kind === "device" && !parts) fetchParts();
    const name = ["room", "goal", "value"].includes(kind) ? [] : [written("Name", "name", [])];
    const own = {
      panel: () => [written("Volts", "kind", SOME.panel), written("Fault current", "size", SOME.available),
        button("Place it")],
      subpanel: () => [written("Volts", "kind", SOME.panel), written("Main, if it has one", "size", SOME.main),
        button("Place it")],
      breaker: () => [chosen("In", "place", alike(panels()), was.place), written("Rating", "size", SOME.breaker),
        button("Place it")],
      box: () => [boxKind(), written("Volume", "size", SOME.volume), button("Place it")],
      device: () => [written("Values", "size", valuesOf(part), valuesOf(part)[0] ?? ""),
        chosen("In", "place", [...alike(named("box")), ["no box: it stands by itself", ""]], home()),
        button("Place it")],
      cable: () => run("Cable", SIZES, was),
      raceway: () => run("Raceway", SOME.raceway, was),
      wire: () => run("Wire", SOME.wire, was, chosen("Color", "color", alike(colors()), was.color), within(was)),
      room: () => [chosen("This is", "place", alike(places()), was.place),
        chosen("in", "kind", [["no room", ""], ...alike(rooms())], was.kind ?? ""), button("Set it")],
      goal: () => goals(was),
      value: () => changes(was),
    };
    name[0]?.querySelector("input").setAttribute("placeholder", "the next free");
    fields.replaceChildren(...name, ...own[kind]());
    changed();
  }

  // What a new value is for; nothing where something is placed.
  const aim = () => ({value: ["name", "kind"], goal: ["name", "size"]}[what()] ?? [])
    .map((one) => field(one)?.value).join(" ");

  function changes(was) {
    if (!answer.things.length) return [made("p", {}, "There is nothing on the board yet.")];
    const thing = answer.things.find((one) => one.name === was.name) ?? answer.things[0];
    const which = was.name === thing.name && was.kind in thing.values ? was.kind : Object.keys(thing.values)[0];
    const taken = made("button", {type: "button"}, "Take it away");
    taken.addEventListener("click", () => put({what: "away", name: thing.name}));
    const ways = [
      chosen("Of", "name", answer.things.map((one) => [`${one.name}, ${one.what}`, one.name]), thing.name),
      chosen("the", "kind", alike(Object.keys(thing.values)), which),
      written("is", "size", offered(thing, which), thing.values[which]),
      button("Set it"), taken,
    ];
    for (const one of [ways[0], ways[1]]) one.querySelector("select").addEventListener("change", rebuilt);
    return ways;
  }

  // A box of another kind holds another volume, where none was written.
  function boxKind() {
    const kind = written("Kind", "kind", SOME.box);
    let was = SOME.box[0];
    function follow() {
      const now = field("kind").value;
      if (now !== was && now in HOLDS && SOME.volume.includes(field("size").value)) field("size").value = HOLDS[now];
      was = now;
    }
    for (const event of ["input", "change"]) kind.addEventListener(event, follow);
    return kind;
  }

  // Where a device goes: where it was said, or where the last of its like went. A machine has a case of its own.
  function home() {
    const alone = standsAlone();
    const some = [where, homes.get(alone)].find((one) => one === "" || named("box").includes(one));
    return some ?? (alone ? "" : named("box")[0]);
  }

  const standsAlone = () => Boolean(parts?.find((one) => one.name === part)?.alone);

  // What nothing is said of yet comes first; what was picked stays.
  function goals(was) {
    const all = purposes();
    if (!all.length) return [made("p", {}, "Place a light, an outlet or a machine first.")];
    const one = all.find(({name}) => name === picked) ?? all.find(({said}) => !said) ?? all[0];
    const how = TO[one.kind].map(([, value]) => value);
    const some = ways(one.name);
    const again = one.name === stated;
    stated = one.name;
    const to = again && how.includes(was.size) ? was.size
      : some.length || !how.includes("live") ? how[0] : "live";
    // Which of several switches works which of several loads, nobody knows but who builds the board.
    const many = answer.calls?.length ? false : all.filter(({kind}) => kind !== "safety").length > 1 && some.length > 1;
    const stays = again && to === was.size ? was.kind : many ? "" : undefined;
    const fields = [chosen("This", "name", alike(all.map(({name}) => name)), one.name),
      chosen("is to", "size", TO[one.kind], to),
      ...(to === "live" ? [] : [to === "stops" ? written("these", "kind", stopped(one.name), stays || undefined)
        : written("switches or call", "kind", some, stays)]), button("Write it")];
    for (const each of fields.slice(0, 2)) each.querySelector("select").addEventListener("change", rebuilt);
    return fields;
  }

  // What is chosen in a list makes the fields anew, and the list keeps the focus.
  function rebuilt(event) {
    const {name} = event.target;
    if (what() === "goal") picked = field("name").value;
    build();
    field(name)?.focus();
  }

  function offered(thing, which) {
    if (which === "values") return valuesOf(thing.values.part);
    return {rating: SOME.breaker, volume: SOME.volume, length: SOME.length, box: named("box")}[which] ?? [];
  }

  // The values that a part may be given, one a line of what is offered.
  function valuesOf(name) {
    const found = parts?.find((one) => one.name === name);
    return found ? found.values.flatMap((one) => one.values) : [];
  }

  async function fetchParts() {
    if (coming) return;
    coming = true;
    by("part-says").textContent = "The parts are coming.";
    parts = (await load())?.parts ?? null;
    coming = false;
    by("part-says").textContent = parts ? "" : "The parts did not come. Choose “Device” again.";
    search();
  }

  const spelt = (words) => words.toLowerCase().replaceAll(/[^a-z0-9]+/g, " ").trim();

  // How well a part fits what is looked for: by its name, by a word that people use, or by what it is. Words that
  // only hold what is looked for come last: a lamp is no clamp.
  function fits(one, wanted) {
    if (!wanted.length) return 1;
    const names = [one.name, ...one.words].map(spelt);
    if (names.includes(wanted.join(" "))) return 5;
    const all = (words) => wanted.every((each) => ` ${words}`.includes(` ${each}`));
    if (all(spelt(one.name))) return 4;
    if (names.some(all)) return 3;
    const whole = spelt(`${one.name} ${one.title} ${one.words.join(" ")}`);
    return all(whole) ? 2 : wanted.every((each) => whole.includes(each)) ? 1 : 0;
  }

  // The parts that have most of the words, where none has them all.
  function nearest(wanted) {
    const names = (one) => ` ${spelt(`${one.name} ${one.words.join(" ")}`)}`;
    const counted = parts.map((one) => [wanted.filter((each) => names(one).includes(` ${each}`)).length, one]);
    const most = Math.max(1, ...counted.map(([count]) => count));
    return counted.filter(([count]) => count === most).map(([, one]) => one);
  }

  function search() {
    if (!parts) return;
    const wanted = spelt(by("part").value).split(" ").filter(Boolean);
    const fit = parts.map((one) => [fits(one, wanted), one]).filter(([fit]) => fit)
      .sort(([one], [other]) => other - one);
    const near = fit.length ? [] : nearest(wanted);
    const found = fit.length ? fit.filter(([how]) => how > 1 || fit[0][0] === 1).map(([, one]) => one) : near;
    const cards = found.slice(0, MOST).map(card);
    by("parts").replaceChildren(...cards);
    const more = found.length - cards.length;
    by("part-says").textContent = !found.length ? "No part is called so."
      : more ? `And ${more} more: write what you look for.` : "";
    // What fits best is taken: the part of before may be far down in the list.
    if (wanted.length || !found.some((one) => one.name === part)) take(wanted.length && fit.length ? found[0] : null);
    // A panel, a box or a cable is looked for here too.
    const [elsewhere] = [...document.querySelectorAll("input[name=what]")].map((one) => one.labels[0].textContent)
      .filter((words) => spelt(words).replaceAll(" ", "") === wanted.join(""));
    if (near.length) by("part-says").textContent = "No part is called so. These come near.";
    if (elsewhere) by("part-says").textContent = `For that, choose “${elsewhere}” above.`;
  }

  function card(one) {
    const input = made("input", {type: "radio", name: "card", value: one.name, checked: one.name === part});
    input.addEventListener("change", () => take(one));
    const words = made("span", {}, one.name);
    const label = made("label", {className: "card", title: one.title}, input, words);
    if (one.picture) {
      const read = new DOMParser().parseFromString(one.picture, "image/svg+xml").documentElement;
      read.setAttribute("aria-hidden", "true");
      label.prepend(document.importNode(read, true));
    }
    return label;
  }

  function take(one) {
    part = one?.name ?? "";
    for (const input of by("parts").querySelectorAll("input")) input.checked = input.value === part;
    if (one) by("part-says").textContent = one.title;
    if (what() === "device") build();
  }

  by("new").addEventListener("submit", (event) => {
    event.preventDefault();
    const values = Object.fromEntries(new FormData(by("new")).entries());
    delete values.card;
    if (what() === "device") {
      if (!part) return tell("Find a part first.");
      values.kind = part;
      homes.set(standsAlone(), values.place);
    }
    put({what: what(), ...values});
    // What is asked for is as good as there: what is written after that is new.
    if (what() === "value" && field("size")) field("size").defaultValue = field("size").value;
  });
  fields.addEventListener("change", ({target}) => {
    if (what() === "device" && target.name === "place") where = target.value;
    changed();
  });
  by("part").addEventListener("input", search);
  by("part").addEventListener("keydown", (key) => {
    if (key.key === "Enter") key.preventDefault();
  });
  for (const one of document.querySelectorAll("input[name=what]")) {
    one.addEventListener("change", () => {
      tell("");
      build();
    });
  }

  function put(thing) {
    did = thing.what;
    ask(thing);
  }

  function tell(words) {
    by("placed").textContent = words;
  }

  return {
    // A board begins with a panel.
    open() {
      // Before the first answer the text alone tells whether there is a board.
      const empty = answer === unanswered ? !by("text").value.trim() : !answer.things.length;
      if (empty) document.querySelector("input[name=what][value=panel]").checked = true;
      if (!parts) fetchParts();
      build();
    },
    show(told) {
      const before = seen();
      answer = told;
      if (seen() === before || by("placing").hidden) return;
      const focused = document.activeElement?.closest("#fields") ? document.activeElement : null;
      // What was written meanwhile stays, where what it is for is still there.
      const written = [...fields.querySelectorAll("input")]
        .filter((one) => one.value !== one.defaultValue).map((one) => [one.name, one.value]);
      const of = aim();
      build();
      if (aim() === of) for (const [name, value] of written) field(name).value = value;
      if (focused) ((focused.name && field(focused.name)) || fields.querySelector("[type=submit]"))?.focus();
    },
    // A touch chooses the box, the ends of a cable by turns, the raceway of a wire, or what is changed.
    has: (id) => {
      const name = id.replace(/^(room|device|jacket)-/, "");
      return name !== id && answer.things.some((one) => one.name === name);
    },
    touch(id) {
      const name = id.replace(/^(room|device|jacket)-/, "");
      const isWay = what() === "wire" && named("raceway").includes(name);
      const side = isWay ? "within" : RUNS.includes(what()) ? ["place", "to"][ends++ % 2]
        : what() === "value" ? "name" : "place";
      const select = field(side);
      const purpose = what() === "goal" && purposes().find((one) => `${one.name}.`.startsWith(`${name}.`));
      if (purpose) {
        picked = purpose.name;
        build();
      }
      if (select && [...select.options].some((one) => one.value === name)) {
        select.value = name;
        if (what() === "device") where = name;
        if (what() === "value") build();
        if (isWay) inside();
      }
    },
    marks() {
      const ids = (name) => [`room-${name}`, `device-${name}`, `jacket-${name}`];
      return ["place", "to", "within", ...(what() === "value" ? ["name"] : [])].filter((one) => field(one)?.value)
        .map((one) => ({ids: ids(field(one).value), kind: one === "to" ? "goal" : "chosen"}));
    },
    // What is said of a thing is asked for, with the thing chosen.
    say(kind, name) {
      document.querySelector(`input[name=what][value=${kind}]`).checked = true;
      picked = purposes().find((one) => `${one.name}.`.startsWith(`${name}.`))?.name ?? "";
      build();
      const side = kind === "goal" ? "name" : "place";
      if (kind === "room") field(side).value = name;
      changed();
      field(side)?.focus();
      fields.scrollIntoView({block: "nearest"});
    },
    tell,
    said({name}) {
      const own = field("name");
      if (own?.type === "text") own.value = "";
      picked = "";
      if (did === "device") where = null;
      return did === "away" ? `${name} is taken away.` : `${name}: done.`;
    },
  };
}
