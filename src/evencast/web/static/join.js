// The secret of a QR code stands behind the # of its address, which no browser sends. It is taken
// from there at once, so that it stays in no history, and goes with the form.
"use strict";

(function () {
  const secret = location.hash.slice(1);
  const field = document.getElementById("secret");
  if (!field) return;
  if (secret) {
    sessionStorage.setItem("secret", secret);
    history.replaceState(null, "", location.pathname);
  }
  // After a name that was refused the page comes anew, without what stood behind the #.
  const kept = secret || (document.querySelector(".failure") ? sessionStorage.getItem("secret") : "");
  if (kept) {
    field.value = kept;
    document.getElementById("typed").hidden = true;
    document.getElementById("scanned").hidden = false;
  }
  const name = document.getElementById("name");
  if (!name.value) name.value = localStorage.getItem("name") || "";
  document.getElementById("join").addEventListener("submit", () => localStorage.setItem("name", name.value));
  (kept ? name : document.getElementById("code")).focus();
})();
