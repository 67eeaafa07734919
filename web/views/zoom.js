import { lay, set, show } from "../dom.js";
import {
  STEP,
  WHOLE,
  detailAddress,
  holds,
  mostOf,
  panned,
  partOf,
  toggledAt,
  wantsDetail,
  zoomedAt,
} from "../zoom.js";

/** A picture that still moves asks for no detail, milliseconds. */
const REST_MS = 250;

/** Two touches are one double touch within this time and way, milliseconds and pixels. */
const DOUBLE_MS = 320;
const DOUBLE_WAY = 30;

const MIDDLE = { x: 0.5, y: 0.5 };

/**
 * Zoom and pan by pinch, wheel, double touch and keys; beyond what the preview holds, a part of the
 * frame itself is asked for. What is shown beside it goes along.
 *
 * @param parts.stage what takes keys and touches, and .sheet, .image what lies on it
 * @param parts.closer the buttons, likewise .farther
 * @param parts.beside a second sheet, if there is one
 * @param parts.films {film, detail, rowOf(state, look)} for each sheet, the frame's own first
 */
export function createZoom({ stage, sheet, image, closer, farther, beside = null, films: shown }) {
  const films = shown.map((each) => ({ ...each, part: null, file: null }));
  const touches = new Map();
  let view = WHOLE;
  let state = null;
  let look = null;
  let resting = null;
  let lastTouch = { at: 0, x: 0, y: 0 };

  function most() {
    const row = state === null ? null : films[0].rowOf(state, look);
    if (row === null || sheet.clientWidth === 0) return 1;
    return mostOf(sidesOf(row).width, sheet.clientWidth, devicePixelRatio);
  }

  /** The upright frame's sides: those of the file may lie on their side, the preview stands. */
  function sidesOf({ width, height }) {
    const [short, long] = [Math.min(width, height) || 1, Math.max(width, height) || 1];
    const lies = image.naturalWidth >= image.naturalHeight;
    return lies ? { width: long, height: short } : { width: short, height: long };
  }

  function put(next) {
    view = next;
    // Whole pixels of the screen: at 100 % each holds one of the frame.
    const box = {
      left: -Math.round(view.left * view.scale * sheet.clientWidth),
      top: -Math.round(view.top * view.scale * sheet.clientHeight),
      width: Math.round(view.scale * sheet.clientWidth),
      height: Math.round(view.scale * sheet.clientHeight),
    };
    for (const { film } of films) {
      for (const [edge, pixels] of Object.entries(box)) film.style[edge] = pixels + "px";
    }
    sheet.toggleAttribute("data-zoomed", view.scale > 1);
    beside?.toggleAttribute("data-zoomed", view.scale > 1);
    set(farther, "aria-disabled", view.scale > 1 ? null : "true");
    set(closer, "aria-disabled", view.scale < most() ? null : "true");
    clearTimeout(resting);
    resting = setTimeout(askForDetail, REST_MS);
  }

  function askForDetail() {
    if (state === null) return;
    for (const each of films) {
      const row = each.rowOf(state, look);
      const wanted =
        row !== null &&
        each.film.checkVisibility() &&
        sidesOf(row).width > image.naturalWidth &&
        wantsDetail(view, sheet.clientWidth, devicePixelRatio, image.naturalWidth);
      if (!wanted) forget(each);
      else if (each.part === null || each.file !== row.file || !holds(each.part, view)) cut(each, row);
    }
  }

  function cut(each, row) {
    const part = partOf(view, sidesOf(row));
    const address = detailAddress(row.file, part);
    each.part = part;
    each.file = row.file;
    if (each.detail.getAttribute("src") === address) return;
    show(each.detail, false);
    set(each.detail, "src", address);
  }

  function forget(each) {
    each.part = null;
    show(each.detail, false);
    set(each.detail, "src", null);
  }

  for (const each of films) {
    each.detail.addEventListener("load", () => {
      if (each.part === null) return;
      lay(each.detail, each.part);
      show(each.detail, true);
    });
    // A frame that has gone from the folder is shown by its preview.
    each.detail.addEventListener("error", () => show(each.detail, false));
  }

  const pointIn = (area, { clientX, clientY }) => ({
    x: (clientX - area.left) / area.width,
    y: (clientY - area.top) / area.height,
  });

  function sheetOf(event) {
    return look !== null && look.patch === null ? event.target.closest(".sheet") : null;
  }

  stage.addEventListener(
    "wheel",
    (event) => {
      const over = sheetOf(event);
      // A wheel over the whole picture scrolls the page unless it zooms in.
      if (over === null || (view.scale === 1 && (event.deltaY > 0 || most() === 1))) return;
      event.preventDefault();
      put(zoomedAt(view, Math.exp(-event.deltaY / 400), pointIn(over.getBoundingClientRect(), event), most()));
    },
    { passive: false },
  );
  stage.addEventListener("pointerdown", (event) => {
    const over = sheetOf(event);
    if (over === null || event.button !== 0) return;
    touches.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (view.scale > 1) over.setPointerCapture(event.pointerId);
  });
  stage.addEventListener("pointermove", (event) => {
    const before = touches.get(event.pointerId);
    if (before === undefined) return;
    const area = sheet.getBoundingClientRect();
    const now = { x: event.clientX, y: event.clientY };
    const other = [...touches].find(([id]) => id !== event.pointerId)?.[1];
    touches.set(event.pointerId, now);
    if (other === undefined) {
      if (view.scale > 1) put(panned(view, (now.x - before.x) / area.width, (now.y - before.y) / area.height, most()));
      return;
    }
    const gap = (one) => Math.hypot(one.x - other.x, one.y - other.y);
    const middle = { clientX: (now.x + other.x) / 2, clientY: (now.y + other.y) / 2 };
    const pinched = zoomedAt(view, gap(now) / Math.max(gap(before), 1), pointIn(area, middle), most());
    put(panned(pinched, (now.x - before.x) / 2 / area.width, (now.y - before.y) / 2 / area.height, most()));
  });
  for (const end of ["pointerup", "pointercancel"]) {
    stage.addEventListener(end, (event) => {
      const began = touches.delete(event.pointerId);
      const over = sheetOf(event);
      if (!began || end !== "pointerup" || over === null || touches.size > 0) return;
      const near = Math.hypot(event.clientX - lastTouch.x, event.clientY - lastTouch.y) < DOUBLE_WAY;
      if (near && event.timeStamp - lastTouch.at < DOUBLE_MS) {
        put(toggledAt(view, pointIn(over.getBoundingClientRect(), event), most()));
        lastTouch = { at: 0, x: 0, y: 0 };
      } else {
        lastTouch = { at: event.timeStamp, x: event.clientX, y: event.clientY };
      }
    });
  }
  stage.addEventListener("keydown", (event) => {
    if (event.target !== stage || event.ctrlKey || event.metaKey || event.altKey) return;
    const ways = { ArrowLeft: [0.2, 0], ArrowRight: [-0.2, 0], ArrowUp: [0, 0.2], ArrowDown: [0, -0.2] };
    if (event.key === "+" || event.key === "=") put(zoomedAt(view, STEP, MIDDLE, most()));
    else if (event.key === "-") put(zoomedAt(view, 1 / STEP, MIDDLE, most()));
    else if (event.key === "0") put(WHOLE);
    else if (event.key === "1") put(zoomedAt(view, most(), MIDDLE, most()));
    else if (view.scale > 1 && Object.hasOwn(ways, event.key)) put(panned(view, ...ways[event.key], most()));
    else return;
    event.preventDefault();
  });
  closer.addEventListener("click", () => put(zoomedAt(view, STEP, MIDDLE, most())));
  farther.addEventListener("click", () => put(zoomedAt(view, 1 / STEP, MIDDLE, most())));
  new ResizeObserver(() => put(panned(view, 0, 0, most()))).observe(sheet);

  return (next, here) => {
    const before = state === null ? null : films[0].rowOf(state, look);
    state = next;
    look = here.look;
    if (films[0].rowOf(state, look) === before) return;
    films.forEach(forget);
    put(view);
  };
}
