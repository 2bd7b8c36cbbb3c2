// The page's script. What the user does goes to the worker as an act; the whole page
// comes back as HTML and is morphed in, so that focus, scroll and what is being typed
// stay. There is no other logic here: what the page says is made in Go.
"use strict";
(() => {
  const KEY = "findrive.1.session"; // all local files share one storage
  const tab = crypto.randomUUID ? crypto.randomUUID() : String(Math.random());
  const $ = (id) => document.getElementById(id);
  const source = URL.createObjectURL(new Blob([$("worker").textContent], { type: "text/javascript" }));

  const searches = ["answer", "buy", "share out"]; // acts that nobody asked for by themselves
  let worker, module, kept, saving = true, crashes = 0;
  let queue = [], busy = null, number = 0;

  // ---- The worker ----

  const start = () => {
    worker = new Worker(source);
    worker.onmessage = ({ data }) => {
      if (data.module) module = data.module;
      else if (data.ready) ready();
      else if ("crashed" in data) crashed(data.crashed);
      else if (data.number === 0) meanwhile(JSON.parse(data.reply));
      else if (busy && data.number === busy.number) done(JSON.parse(data.reply));
    };
    worker.onerror = (e) => crashed(e.message);
    passed = 0;
    all = false;
    if (module) worker.postMessage({ module });
    else pass();
  };

  // The parts of the engine stand below this script: each is passed on once it is all there,
  // which is when something stands behind it.
  let passed = 0, all = false;
  const pass = () => {
    if (module || all) return;
    all = document.readyState !== "loading";
    const there = document.querySelectorAll("script.engine");
    for (; passed < there.length - (all ? 0 : 1); passed++) worker.postMessage({ part: there[passed].textContent });
    if (all) { coming.disconnect(); worker.postMessage({ last: true }); }
  };
  const coming = new MutationObserver(pass);

  let up = false;
  const ready = () => {
    up = true;
    document.documentElement.dataset.ready = "yes";
    next();
  };

  // A crash loses nothing: the files are in the last reply. Another worker starts from
  // them, without the act that ended this one.
  const crashed = (words) => {
    console.warn("findrive: the engine ended:", words);
    worker.terminate();
    up = false;
    const lost = busy;
    busy = null;
    crashes++;
    queue = queue.filter((a) => a !== lost);
    if (crashes > 5) return say("The engine ends again and again. Save your files, then open the page anew.");
    queue.unshift({ act: "restore", on: lost && lost.act === "restore" ? "" : "crash", value: lost && lost.act === "restore" ? "" : kept || "" });
    start();
  };

  const send = (act) => {
    act.from = document.activeElement;
    if (act.act === "open") drafts.clear(); // they were of other files
    // Of the same field only the last word counts.
    queue = queue.filter((a) => !(a.act === "set" && act.act === "set" && a.on === act.on));
    queue.push(act);
    document.documentElement.dataset.idle = "no";
    if (busy && searches.includes(busy.act)) worker.postMessage({ stop: "overtaken" });
    next();
  };

  const next = () => {
    if (!up || busy || !queue.length) return;
    busy = queue.shift();
    busy.number = ++number;
    if (searches.includes(busy.act)) working(true);
    const { number: n, from, ...act } = busy;
    worker.postMessage({ number: n, act: JSON.stringify(act) });
  };

  const done = (reply) => {
    const was = busy;
    busy = null;
    working(false);
    if (was.act !== "restore") crashes = 0;
    if (reply.html) morph(reply.html);
    if (reply.title) document.title = reply.title;
    if (reply.keep) { kept = reply.keep; keep(); }
    for (const f of reply.files || []) download(f);
    // Who has gone on to another field meanwhile is left there.
    if (reply.focus && (document.activeElement === was.from || document.activeElement === document.body)) focus(reply.focus);
    if (reply.say) say(reply.say);
    if (reply.print) setTimeout(() => window.print(), 60);
    if (reply.next && !queue.some((a) => !searches.includes(a.act))) queue.push({ act: reply.next, from: document.activeElement });
    next();
    document.documentElement.dataset.done = String(was.number);
    document.documentElement.dataset.idle = busy || queue.length ? "no" : "yes";
  };

  // ---- The page ----

  // What was put into a field and not sent yet is not written over; that of a field that goes is
  // put back when it comes again.
  const unsent = new WeakSet();
  const drafts = new Map();
  const fieldsOf = (el) => [...el.querySelectorAll("input,select,textarea")].filter((f) => f.name && f.type !== "file");
  const sent = (form) => { for (const f of form ? fieldsOf(form) : []) unsent.delete(f); };
  const unsentIn = (node) => (node.tagName === "OPTION" ? unsent.has(node.closest("select")) : unsent.has(node));
  const keepDrafts = (node) => {
    for (const f of node.querySelectorAll ? fieldsOf(node) : []) if (f.id && unsent.has(f)) drafts.set(f.id, f.type === "checkbox" || f.type === "radio" ? f.checked : f.value);
  };
  const putBack = () => {
    for (const [id, v] of drafts) {
      const f = $(id);
      if (!f) continue;
      if (typeof v === "boolean") f.checked = v;
      else f.value = v;
      unsent.add(f);
      drafts.delete(id);
    }
  };

  const morph = (html) => {
    const old = $("page");
    const now = document.createElement("template");
    now.innerHTML = html;
    Idiomorph.morph(old, now.content.firstElementChild, {
      callbacks: {
        // What the user has folded or opened stays so, and a heading that has the focus keeps it.
        beforeAttributeUpdated: (name, node) => !(name === "open" && node.tagName === "DETAILS") && !(name === "tabindex" && node === document.activeElement) &&
          !(["value", "checked", "selected"].includes(name) && unsentIn(node)),
        beforeNodeRemoved: keepDrafts,
      },
    });
    putBack();
    const still = $("still");
    if (still) still.setAttribute("aria-pressed", document.documentElement.classList.contains("still"));
  };

  const focus = (id) => {
    const el = $(id);
    if (!el) return;
    for (let up = el.parentElement; up; up = up.parentElement) if (up.tagName === "DETAILS") up.open = true;
    if (!el.matches("a,button,input,select,textarea,summary")) el.tabIndex = -1;
    el.focus({ preventScroll: true });
    el.scrollIntoView({ block: el.matches("h1,h2") ? "start" : "center" });
  };

  const say = (words) => { $("said").textContent = words; };
  const progress = (words) => { const el = $("so-far"); if (el) el.textContent = words; };
  const meanwhile = (reply) => {
    if (reply.html) morph(reply.html);
    if (reply.soFar) progress(reply.soFar);
  };
  const working = (is) => {
    document.documentElement.dataset.busy = is ? "yes" : "no";
    if (!is) progress("");
  };

  const download = (f) => {
    const bytes = Uint8Array.from(atob(f.data), (c) => c.charCodeAt(0));
    const a = document.createElement("a");
    a.href = URL.createObjectURL(new Blob([bytes], { type: f.type }));
    a.download = f.name;
    document.body.append(a);
    a.click();
    a.remove();
    setTimeout(() => URL.revokeObjectURL(a.href), 60000);
  };

  // ---- What is kept ----

  const keep = () => {
    if (!saving) return;
    try {
      localStorage.setItem(KEY, JSON.stringify({ version: 1, tab, kept }));
    } catch {
      saving = false;
      send({ act: "not kept" });
    }
  };
  const found = () => {
    try {
      const all = JSON.parse(localStorage.getItem(KEY));
      return all && all.version === 1 ? all.kept : "";
    } catch { return ""; }
  };
  addEventListener("storage", (e) => {
    if (e.key !== KEY || !e.newValue || !saving) return;
    saving = false;
    send({ act: "other tab" });
  });

  // ---- What the user does ----

  document.addEventListener("input", (e) => { unsent.add(e.target); });

  const formOf = (el) => {
    const form = {};
    for (const c of el.querySelectorAll("input,select,textarea")) {
      if (!c.name || c.type === "file" || (c.type === "radio" && !c.checked)) continue;
      form[c.name] = c.type === "checkbox" ? (c.checked ? "yes" : "") : c.value;
    }
    return form;
  };
  // Of a file no more is read than it takes to see that it is too large: a film would end the engine.
  const MOST = (1 << 23) + 1;
  // Null if one cannot be read: it may be a folder, or on a stick that is gone.
  const filesOf = async (list) => {
    const files = [];
    for (const f of list) {
      try {
        const bytes = new Uint8Array(await (f.size > MOST ? f.slice(0, MOST) : f).arrayBuffer());
        let text = "";
        for (let i = 0; i < bytes.length; i += 32768) text += String.fromCharCode.apply(null, bytes.subarray(i, i + 32768));
        files.push({ name: f.name, type: f.type, data: btoa(text) });
      } catch {
        send({ act: "unread", value: f.name });
        return null;
      }
    }
    return files;
  };

  document.addEventListener("click", (e) => {
    const el = e.target.closest("[data-act]");
    if (!el || el.matches("input,select,textarea,form")) return;
    e.preventDefault();
    if (el.dataset.act === "stop") return busy && worker.postMessage({ stop: "user" });
    if (el.dataset.act === "still") { document.documentElement.classList.toggle("still"); el.setAttribute("aria-pressed", document.documentElement.classList.contains("still")); return; }
    if (el.dataset.act === "save here") { saving = true; }
    if (el.dataset.act === "pick") return $(el.dataset.on).click();
    const form = el.dataset.form !== undefined ? el.closest("form") : null;
    sent(form);
    send({ act: el.dataset.act, on: el.dataset.on || "", value: el.dataset.value || "", form: form ? formOf(form) : undefined });
  });
  document.addEventListener("submit", (e) => {
    e.preventDefault();
    const form = e.target;
    const beside = $(form.dataset.with);
    sent(form);
    sent(beside);
    send({ act: form.dataset.act, on: form.dataset.on || "", form: { ...(beside ? formOf(beside) : {}), ...formOf(form) } });
  });
  document.addEventListener("change", async (e) => {
    const el = e.target;
    if (el.dataset.act) unsent.delete(el);
    if (el.type === "file") {
      const form = el.closest("form");
      const files = await filesOf(el.files);
      el.value = ""; // the same one may be chosen again
      if (!files) return;
      sent(form);
      send({ act: el.dataset.act, on: el.dataset.on || "", files, form: form ? formOf(form) : undefined });
    } else if (el.dataset.act) {
      send({ act: el.dataset.act, on: el.dataset.on || "", value: el.type === "checkbox" ? (el.checked ? "yes" : "no") : el.value });
    }
  });
  document.addEventListener("dragover", (e) => { if (e.dataTransfer && [...e.dataTransfer.types].includes("Files")) e.preventDefault(); });
  document.addEventListener("drop", async (e) => {
    if (!e.dataTransfer || !e.dataTransfer.files.length) return;
    e.preventDefault();
    const files = await filesOf([...e.dataTransfer.files]);
    if (files) send({ act: "open", files });
  });
  // A table copied from a spreadsheet comes as tab-separated text; into the place for a
  // list it goes as it is, anywhere else on the list's step it is taken at once.
  document.addEventListener("keydown", (e) => {
    if (!(e.ctrlKey || e.metaKey) || e.altKey || e.target.matches("input:not([type=checkbox]):not([type=radio]),textarea")) return;
    if (e.key === "z" && !e.shiftKey) { e.preventDefault(); send({ act: "undo" }); }
    if (e.key === "y" || (e.key === "z" && e.shiftKey) || e.key === "Z") { e.preventDefault(); send({ act: "redo" }); }
  });

  addEventListener("beforeunload", keep);
  kept = found();
  queue.push({ act: "restore", value: kept });
  coming.observe(document.body, { childList: true });
  document.addEventListener("DOMContentLoaded", pass);
  start();
})();
