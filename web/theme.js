// Sets the theme before the first paint; a classic script, because a module would come too late.
// The chooser in views/themes.js changes it afterwards.
(function () {
  let kept = null;
  try {
    kept = localStorage.getItem("scenespan-theme");
  } catch {
    // Storage may be forbidden; the theme then follows the device.
  }
  const known = kept === "day" || kept === "dark" || kept === "night";
  const dark = matchMedia("(prefers-color-scheme: dark)").matches;
  document.documentElement.dataset.theme = known ? kept : dark ? "dark" : "day";
})();
