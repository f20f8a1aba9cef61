// Whose record is written on this page: chosen, or begun with a name.
"use strict";
(() => {
  const { names, people, store, element, root } = gaugeleaf;

  /** @param {HTMLElement} part */
  function live(part) {
    const pick = /** @type {HTMLSelectElement} */ (part.querySelector(".person-pick"));
    const form = /** @type {HTMLFormElement} */ (part.querySelector(".person-new"));
    const name = /** @type {HTMLInputElement} */ (part.querySelector(".person-name"));
    const said = /** @type {HTMLElement} */ (part.querySelector(".person-said"));
    const more = /** @type {HTMLDetailsElement} */ (part.querySelector(".person-more"));
    const way = /** @type {HTMLElement} */ (part.querySelector(".person-way"));
    const nobody = pick.options[0];

    function show() {
      const own = Object.entries(people.all()).sort(([, one], [, other]) => one.name.localeCompare(other.name));
      pick.replaceChildren(...(nobody ? [nobody] : []), ...own.map(([id, person]) => new Option(person.name, id)));
      pick.value = people.inHand();
      // With nobody on record yet, a name is what comes next.
      if (own.length === 0) more.open = true;
      // The role that they were last seen on their way to.
      const role = /** @type {{ page?: string, name?: string } | null} */ (store.get(`role/${people.inHand()}`));
      const link = element("a", "", worded("person.way", { role: role?.name ?? "" }));
      link.href = `${root}${role?.page ?? ""}#role`;
      way.replaceChildren(...(role?.page && role.page !== document.documentElement.dataset.page ? [link] : []));
      for (const place of document.querySelectorAll(".person-in-hand")) place.textContent = people.person()?.name ?? "";
    }

    pick.addEventListener("change", () => people.choose(pick.value));
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      if (!names.isName(name.value)) {
        said.textContent = worded("person.no_name");
        name.focus();
        return;
      }
      if (people.unread().some((one) => names.same(one, name.value))) {
        said.textContent = worded("person.unread", { name: name.value.trim() });
        return;
      }
      const near = people.named(name.value) ? undefined : people.nearTo(name.value);
      if (near && !names.apart(near.name, name.value)) {
        said.textContent = worded("person.near", { name: near.name });
        pick.focus();
        return;
      }
      const known = people.named(name.value) !== undefined;
      if (known && !confirm(worded("person.ask_known", { name: name.value.trim() }))) {
        said.textContent = worded("person.other");
        name.focus();
        return;
      }
      said.textContent = !people.add(name.value) ? worded("person.not_kept")
        : known ? worded("person.known", { name: name.value.trim() })
        : worded("person.begun", { name: name.value.trim() });
      name.value = "";
      more.open = false;
    });
    addEventListener("personchange", () => {
      show();
      if (store.fault() !== "") said.textContent = worded("person.not_kept");
    });
    addEventListener("storage", show);
    show();
  }

  /**
   * What somebody goes through with a candidate who has failed twice, and by whom it was done.
   * @param {HTMLFormElement} form
   * @param {(by: string) => boolean} keep
   */
  gaugeleaf.remedied = (form, keep) => {
    const by = /** @type {HTMLInputElement} */ (form.querySelector(".remedy-by"));
    const apart = /** @type {HTMLInputElement} */ (form.querySelector(".remedy-apart"));
    const said = /** @type {HTMLElement} */ (form.querySelector(".remedy-said"));
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      if (!names.isName(by.value) || !names.apart(by.value, people.person()?.name ?? "")) {
        said.textContent = worded("remedy.no_name");
        by.focus();
        return;
      }
      if (!apart.checked) {
        said.textContent = worded("remedy.taught");
        apart.focus();
        return;
      }
      const kept = keep(by.value.trim());
      said.textContent = kept ? "" : worded("person.not_kept");
      if (kept) form.reset();
    });
  };

  for (const part of document.querySelectorAll(".person")) live(/** @type {HTMLElement} */ (part));
})();
