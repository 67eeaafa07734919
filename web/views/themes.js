/** The chooser of day, dark and night; the choice stays on this device. */
export function createThemes() {
  const root = document.documentElement;
  for (const choice of document.querySelectorAll("#themes input")) {
    choice.checked = choice.value === root.dataset.theme;
    choice.addEventListener("change", () => {
      root.dataset.theme = choice.value;
      try {
        localStorage.setItem("scenespan-theme", choice.value);
      } catch {
        // Storage may be forbidden; the theme then lasts as long as the page.
      }
    });
  }
}
