"use strict";
(() => {
  const at = (id) => document.getElementById(id);
  const data = JSON.parse(at("data").textContent);
  const [MARK, ROLE, SIZE, STATE, SHEETS, FINDINGS, WORKING, GROUND] = [0, 1, 2, 3, 4, 5, 6, 7];
  const svg = (name, attributes) => {
    const e = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const [key, value] of Object.entries(attributes || {})) e.setAttribute(key, value);
    return e;
  };
  const node = (name, text, className) => {
    const e = document.createElement(name);
    if (text !== undefined) e.textContent = text;
    if (className) e.className = className;
    return e;
  };

  // The frame: the pieces of each member, the hops of each piece.
  const pieces = data.members.map(() => []);
  data.pieces.forEach((p, i) => pieces[p[0]].push(i));
  const from = data.pieces.map(() => []), to = data.pieces.map(() => []);
  data.hops.forEach((h, i) => { from[h[0]].push(i); to[h[1]].push(i); });
  const nameOf = (piece) => data.members[data.pieces[piece][0]][MARK] + data.pieces[piece][1];

  // follow walks hops breadth first; a circle is walked once.
  const follow = (start, hops, end) => {
    const out = [], seen = new Set(start), queue = [...start];
    for (let i = 0; i < queue.length; i++) {
      for (const hop of hops[queue[i]]) {
        out.push(hop);
        const next = data.hops[hop][end];
        if (!seen.has(next)) { seen.add(next); queue.push(next); }
      }
    }
    return out;
  };

  // flows puts hops together by the two members.
  const flows = (hops) => {
    const found = new Map();
    for (const hop of hops) {
      const h = data.hops[hop], a = data.pieces[h[0]][0], b = data.pieces[h[1]][0], key = a + ">" + b;
      let flow = found.get(key);
      if (!flow) found.set(key, flow = { from: a, to: b, hops: [], load: data.cases.map(() => 0) });
      flow.hops.push(hop);
      data.cases.forEach((_, c) => { flow.load[c] += h[5 + c] || 0; });
    }
    return [...found.values()];
  };

  // The two drawings.
  const views = data.views.map((m, i) => {
    const element = document.querySelector("#view-" + i + " svg");
    return { m, element, whole: element.viewBox.baseVal.width && [0, 0, element.viewBox.baseVal.width, element.viewBox.baseVal.height] };
  });
  const onPaper = (m, x, y, z) => [m[6] + x * m[0] + y * m[1] + z * m[2], m[7] - x * m[3] - y * m[4] - z * m[5]];
  const axis = (m, piece) => {
    const p = data.pieces[piece], out = [];
    for (let i = 2; i + 2 < p.length; i += 3) out.push(onPaper(m, p[i], p[i + 1], p[i + 2]));
    return out;
  };
  const short = (n) => Math.round(n * 100) / 100;
  const lines = (m, set) => {
    let d = "";
    for (const piece of set) {
      const points = axis(m, piece);
      if (points.length < 2) continue;
      const length = Math.hypot(points[0][0] - points.at(-1)[0], points[0][1] - points.at(-1)[1]);
      if (length < 0.2 && points.length === 2) {
        d += "M" + short(points[0][0] - 1.1) + " " + short(points[0][1] - 1.1) + "h2.2v2.2h-2.2z";
        continue;
      }
      points.forEach((p, i) => { d += (i ? "L" : "M") + short(p[0]) + " " + short(p[1]); });
    }
    return d;
  };

  // Filters.
  const shown = data.members.map(() => true);
  const drawn = [...document.querySelectorAll("[data-m]")].map((e) => [e, Number(e.dataset.m)]);
  const labels = drawn.filter(([e]) => e.localName === "text");
  const about = [...document.querySelectorAll("[data-for]")].map((e) => [e, e.dataset.for ? e.dataset.for.split(" ").map(Number) : []]);
  const list = at("list");
  const options = data.members.map((m, i) => {
    const option = node("div");
    option.id = "member-" + i;
    option.setAttribute("role", "option");
    option.setAttribute("aria-selected", "false");
    option.append(node("b", m[MARK]), node("span", [data.roles[m[ROLE]], m[SIZE]].filter(Boolean).join(", ")), node("i", data.words[m[STATE]], "word " + data.states[m[STATE]]));
    return option;
  });
  list.append(...options);
  data.states.forEach((state, i) => {
    if (!data.members.some((m) => m[STATE] === i)) return;
    const label = node("label"), box = node("input"), sample = svg("svg", { class: "sample", viewBox: "0 0 14 2", "aria-hidden": "true" });
    box.type = "checkbox";
    box.checked = true;
    box.value = i;
    box.name = "state";
    sample.append(svg("path", { class: "m " + state, d: "M0 1h14" }));
    label.append(box, sample, data.words[i]);
    at("states").append(label);
  });
  const choices = (id, names) => names.forEach((name, i) => {
    const option = node("option", name || "not said");
    option.value = i;
    at(id).append(option);
  });
  choices("role", data.roles);
  choices("sheet", data.sheets);

  const filter = () => {
    const states = new Set([...document.querySelectorAll("#states input:checked")].map((e) => Number(e.value)));
    const role = at("role").value, sheet = at("sheet").value;
    let count = 0;
    data.members.forEach((m, i) => {
      shown[i] = states.has(m[STATE]) && (role === "" || m[ROLE] === Number(role)) && (sheet === "" || m[SHEETS].includes(Number(sheet)));
      if (shown[i]) count++;
      options[i].classList.toggle("off", !shown[i]);
    });
    for (const [e, m] of drawn) e.classList.toggle("off", !shown[m]);
    for (const [e, members] of about) e.classList.toggle("off", members.length > 0 && !members.some((m) => shown[m]));
    at("shown").textContent = count + " of " + data.members.length + " members shown";
  };
  at("filters").addEventListener("change", filter);
  at("filters").addEventListener("submit", (e) => e.preventDefault());

  // Picking.
  let picked = -1;
  const pick = (member, piece) => {
    if (picked >= 0) options[picked].setAttribute("aria-selected", "false");
    picked = member;
    for (const v of views) v.element.classList.toggle("faint", member >= 0);
    at("picked").hidden = member < 0;
    if (member < 0) {
      list.removeAttribute("aria-activedescendant");
      light([], [], []);
      at("status").textContent = "No member is picked";
      history.replaceState(null, "", location.pathname + location.search);
      return;
    }
    const option = options[member], m = data.members[member];
    option.setAttribute("aria-selected", "true");
    list.setAttribute("aria-activedescendant", option.id);
    const top = option.offsetTop - list.offsetTop;
    if (top < list.scrollTop || top + option.offsetHeight > list.scrollTop + list.clientHeight) list.scrollTop = top - list.clientHeight / 3;
    at("picked-name").textContent = m[MARK];
    at("picked-about").textContent = [data.roles[m[ROLE]], m[SIZE], data.words[m[STATE]], m[SHEETS].map((s) => data.sheets[s]).join(", ")].filter(Boolean).join("; ");
    const select = at("piece");
    select.replaceChildren();
    at("piece-choice").hidden = pieces[member].length < 2;
    select.append(node("option", "all " + pieces[member].length));
    select.firstChild.value = "";
    for (const p of pieces[member].length < 2 ? [] : pieces[member]) {
      const one = node("option", nameOf(p));
      one.value = p;
      select.append(one);
    }
    select.value = piece === undefined ? "" : piece;
    const own = at("own");
    own.replaceChildren();
    m[FINDINGS].forEach((id) => own.append(copy("finding-" + id)));
    if (m[FINDINGS].length === 0) own.append(node("p", "No finding of this member.", "aside"));
    if (m[WORKING]) own.append(copy("working-" + member));
    history.replaceState(null, "", "#member=" + encodeURIComponent(m[MARK]));
    trace();
  };
  const copy = (id) => {
    const e = at(id).cloneNode(true);
    e.removeAttribute("id");
    e.classList.remove("off");
    e.querySelectorAll(".for").forEach((f) => f.remove());
    return e;
  };

  const trace = () => {
    const one = at("piece").value;
    const start = one === "" ? pieces[picked] : [Number(one)];
    const down = follow(start, from, 1), up = follow(start, to, 0);
    light(start, down, up);
    const downFlows = flows(down), upFlows = flows(up);
    table("down", downFlows, 1, data.members[picked][GROUND] ? "It stands on the ground." : "Nothing that is stated: its load goes nowhere.");
    table("up", upFlows, downFlows.length + 1, "Nothing.");
    bubbles([...downFlows, ...upFlows]);
    const lit = new Set([picked, ...downFlows.map((f) => f.to), ...upFlows.map((f) => f.from)]);
    for (const [e, m] of labels) e.classList.toggle("lit", lit.has(m));
    const name = (flow, end) => data.members[flow[end]][MARK];
    at("status").textContent = data.members[picked][MARK] + ", " + data.roles[data.members[picked][ROLE]] + ", " + data.words[data.members[picked][STATE]] +
      ". Goes down to " + ([...new Set(downFlows.filter((f) => f.from === picked).map((f) => name(f, "to")))].slice(0, 6).join(", ") || "nothing") +
      ". " + counted(new Set(upFlows.map((f) => f.from)).size, "member") + " on it. " + counted(data.members[picked][FINDINGS].length, "finding") + ".";
  };
  const counted = (n, noun) => n + " " + noun + (n === 1 ? "" : "s");
  const light = (start, down, up) => {
    const lower = new Set(down.map((h) => data.hops[h][1])), upper = new Set(up.map((h) => data.hops[h][0]));
    for (const v of views) {
      const over = v.element.querySelector(".over");
      over.querySelector(".picked").setAttribute("d", lines(v.m, start));
      over.querySelector(".down").setAttribute("d", lines(v.m, lower));
      over.querySelector(".up").setAttribute("d", lines(v.m, upper));
      v.element.querySelector(".bubbles").replaceChildren();
    }
  };
  const few = data.cases.length <= 3;
  const cases = () => few ? data.cases.map((_, i) => i) : [Number(at("case").value)];
  const table = (id, list, number, none) => {
    const place = at(id);
    place.replaceChildren();
    if (list.length === 0) { place.append(node("p", none)); return; }
    const t = node("table"), head = node("tr"), body = node("tbody"), most = 200;
    for (const text of ["No.", "From", "To", ...cases().map((c) => data.cases[c])]) {
      const th = node("th", text);
      th.scope = "col";
      if (data.cases.includes(text)) th.className = "figure";
      head.append(th);
    }
    t.append(node("thead"), body);
    t.firstChild.append(head);
    list.slice(0, most).forEach((flow, i) => {
      const row = node("tr");
      row.append(node("td", String(number + i)));
      for (const end of ["from", "to"]) {
        const cell = node("td"), button = node("button", data.members[flow[end]][MARK]);
        button.type = "button";
        button.dataset.pick = flow[end];
        cell.append(button);
        if (end === "from" && flow.hops.length > 1) cell.append(node("small", flow.hops.length + " places"));
        row.append(cell);
      }
      for (const c of cases()) row.append(node("td", flow.load[c].toFixed(data.digits), "figure"));
      body.append(row);
    });
    place.append(t);
    if (list.length > most) place.append(node("p", "And " + (list.length - most) + " more.", "aside"));
  };
  const bubbles = (list) => {
    for (const v of views) {
      const taken = [], place = v.element.querySelector(".bubbles");
      list.slice(0, 40).forEach((flow, i) => {
        const h = data.hops[flow.hops[flow.hops.length >> 1]];
        let [x, y] = onPaper(v.m, h[2], h[3], h[4]);
        for (let tries = 0; tries < 6 && taken.some((t) => Math.abs(t[0] - x) < 4 && Math.abs(t[1] - y) < 4); tries++) x += 1.5;
        if (taken.some((t) => Math.abs(t[0] - x) < 4 && Math.abs(t[1] - y) < 4)) return; // no room: the list has it
        taken.push([x, y]);
        const g = svg("g", { class: "bubble" }), text = svg("text", { x: short(x), y: short(y + 0.8) });
        text.textContent = i + 1;
        g.append(svg("circle", { cx: short(x), cy: short(y), r: 1.9 }), text);
        place.append(g);
      });
    }
  };
  document.querySelectorAll(".unit").forEach((e) => { e.textContent = data.force; });
  at("case-choice").hidden = few;
  choices("case", data.cases);
  at("case").addEventListener("change", trace);
  at("piece").addEventListener("change", trace);
  at("picked").addEventListener("click", (e) => {
    if (e.target.dataset.pick !== undefined) { pick(Number(e.target.dataset.pick)); at("list").focus(); }
  });

  // The list, by mouse and by keyboard.
  list.addEventListener("click", (e) => {
    const option = e.target.closest("[role=option]");
    if (option) pick(options.indexOf(option));
  });
  let typed = "", typedAt = 0;
  const seek = (start, step) => {
    for (let i = start; i >= 0 && i < options.length; i += step) if (shown[i]) return i;
    return -1;
  };
  list.addEventListener("keydown", (e) => {
    let next = -1;
    const many = (step) => {
      let i = picked;
      for (let n = 0; n < 10; n++) { const j = seek(i + step, step); if (j < 0) break; i = j; }
      return i;
    };
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    switch (e.key) {
      case "ArrowDown": next = seek(picked + 1, 1); break;
      case "ArrowUp": next = seek(picked < 0 ? 0 : picked - 1, picked < 0 ? 1 : -1); break;
      case "PageDown": next = many(1); break;
      case "PageUp": next = many(-1); break;
      case "Home": next = seek(0, 1); break;
      case "End": next = seek(options.length - 1, -1); break;
      case "Escape": pick(-1); e.preventDefault(); return;
      default:
        if (e.key.length !== 1) return;
        typed = e.timeStamp - typedAt < 900 ? typed + e.key.toLowerCase() : e.key.toLowerCase();
        typedAt = e.timeStamp;
        next = data.members.findIndex((m, i) => shown[i] && m[MARK].toLowerCase().startsWith(typed));
    }
    e.preventDefault();
    if (next >= 0) pick(next);
  });
  list.addEventListener("focus", () => { if (picked < 0) { const i = seek(0, 1); if (i >= 0) list.setAttribute("aria-activedescendant", options[i].id); } });

  let last = {};
  // The drawings, by mouse and by touch: a press picks what lies nearest, a drag moves a drawing that is closer.
  for (const v of views) {
    let box = v.whole.slice(), down = null;
    const show = () => {
      v.element.setAttribute("viewBox", box.map(short).join(" "));
      v.element.classList.toggle("zoomed", box[2] < v.whole[2] - 0.01);
    };
    const zoom = (factor) => {
      const width = Math.min(v.whole[2], Math.max(v.whole[2] / 40, box[2] * factor)), height = width * v.whole[3] / v.whole[2];
      box = [box[0] + (box[2] - width) / 2, box[1] + (box[3] - height) / 2, width, height];
      keep();
    };
    const keep = () => {
      box[0] = Math.min(Math.max(box[0], 0), v.whole[2] - box[2]);
      box[1] = Math.min(Math.max(box[1], 0), v.whole[3] - box[3]);
      show();
    };
    v.element.closest("figure").querySelector(".zoom").addEventListener("click", (e) => {
      const how = e.target.dataset.zoom;
      if (how === "all") { box = v.whole.slice(); show(); } else if (how) zoom(how === "in" ? 0.5 : 2);
    });
    v.element.addEventListener("pointerdown", (e) => { down = { x: e.clientX, y: e.clientY, box: box.slice(), moved: false }; });
    v.element.addEventListener("pointermove", (e) => {
      if (!down || !e.buttons) return;
      const dx = e.clientX - down.x, dy = e.clientY - down.y;
      if (!down.moved && Math.hypot(dx, dy) < 5) return;
      down.moved = true;
      const perPixel = box[2] / v.element.clientWidth;
      box[0] = down.box[0] - dx * perPixel;
      box[1] = down.box[1] - dy * perPixel;
      keep();
    });
    v.element.addEventListener("click", (e) => {
      if (down && down.moved) { down = null; return; }
      const matrix = v.element.getScreenCTM().inverse(), x = matrix.a * e.clientX + matrix.e, y = matrix.d * e.clientY + matrix.f;
      const found = near(v.m, x, y, 14 * matrix.a);
      if (found.length === 0) { pick(-1); return; }
      const before = found.findIndex((piece) => data.pieces[piece][0] === picked);
      const again = last.view === v && Math.hypot(e.clientX - last.x, e.clientY - last.y) < 5 && before >= 0;
      const piece = found[again ? (before + 1) % found.length : 0], member = data.pieces[piece][0];
      last = { view: v, x: e.clientX, y: e.clientY };
      pick(member, pieces[member].length > 1 ? piece : undefined);
    });
  }
  // near lists the pieces that are shown within reach of a place on paper, the nearest of each member, the nearest first;
  // of those as near the shortest on paper, so that what stands upright is found. A second press on the same place goes
  // to the next: in plan one member often lies over another.
  const near = (m, x, y, reach) => {
    const best = new Map();
    data.pieces.forEach((p, piece) => {
      if (!shown[p[0]]) return;
      const points = axis(m, piece);
      for (let i = 1; i < points.length; i++) {
        const [ax, ay] = points[i - 1], [bx, by] = points[i], dx = bx - ax, dy = by - ay, square = dx * dx + dy * dy;
        const t = square === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / square));
        const distance = Math.hypot(x - ax - t * dx, y - ay - t * dy), score = distance + 0.002 * Math.sqrt(square);
        if (distance < reach && score < (best.get(p[0])?.score ?? Infinity)) best.set(p[0], { piece, score });
      }
    });
    return [...best.values()].sort((a, b) => a.score - b.score).map((b) => b.piece);
  };

  addEventListener("beforeprint", () => document.querySelectorAll("details").forEach((d) => { d.open = true; }));
  filter();
  if (location.hash.startsWith("#member=")) {
    const i = data.members.findIndex((m) => "#member=" + encodeURIComponent(m[MARK]) === location.hash);
    if (i >= 0) pick(i);
  }
})();
