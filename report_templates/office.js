// What the office page can do better with a script: everything works without it.
"use strict";

(() => {
  const problem = document.getElementById("wrong") || document.getElementById("held");
  if (problem) {
    const first = document.querySelector("[aria-invalid]") || document.getElementById("sure");
    (first || problem).focus();
  }

  // An id that is proposed is typed over, or left by Tab.
  const proposed = document.querySelector("form.entry input[autofocus]:not([type=date]):not([type=time])");
  if (!problem && proposed && proposed.value) proposed.select();

  // A form is sent once, however often Enter is pressed.
  for (const form of document.querySelectorAll("form[method=post]")) {
    let sent = false;
    form.addEventListener("submit", (event) => {
      if (sent) event.preventDefault();
      sent = true;
      setTimeout(() => { sent = false; }, 3000);
    });
  }

  // Enter in a list of words sends the form as in any other field.
  for (const list of document.querySelectorAll("form.entry[method=post] select"))
    list.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" || event.ctrlKey || event.altKey || event.metaKey) return;
      event.preventDefault();
      list.form.requestSubmit();
    });

  // From what is wrong with a map to its line.
  for (const link of document.querySelectorAll("a[data-line]"))
    link.addEventListener("click", (event) => {
      event.preventDefault();
      const text = document.getElementById("text");
      const lines = text.value.split("\n");
      const from = lines.slice(0, link.dataset.line - 1).join("\n").length + (link.dataset.line > 1 ? 1 : 0);
      text.focus();
      text.setSelectionRange(from, from + lines[link.dataset.line - 1].length);
    });

  // A ticket's unit is that of its scale.
  const ticket = document.querySelector("form.entry[data-kind=ticket]");
  if (ticket)
    ticket.elements.scale.addEventListener("change", (event) => {
      const named = [...event.target.list.options].find((each) => each.value === event.target.value);
      if (named && named.dataset.unit) ticket.elements.unit.value = named.dataset.unit;
    });

  // Doubts as one types: the form is looked at, nothing is recorded.
  const entry = document.querySelector("form.entry[data-kind]");
  const look = document.getElementById("look");
  if (!entry || !look) return;
  let waiting = 0;
  let asked = 0;
  const ask = async () => {
    if (!entry.checkValidity()) return;
    const mine = ++asked;
    const sent = new URLSearchParams(new FormData(entry));
    sent.set("look", "1");
    try {
      const answer = await fetch(entry.getAttribute("action"), { method: "POST", body: sent, credentials: "same-origin" });
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      if (mine !== asked) return;
      const said = page.getElementById("look");
      const wrong = page.querySelector("#wrong ul");
      look.replaceChildren(...(wrong ? [wrong] : said ? said.childNodes : []));
    } catch {
      look.replaceChildren();
    }
  };
  entry.addEventListener("change", () => {
    clearTimeout(waiting);
    waiting = setTimeout(ask, 250);
  });
})();
