/** Numbers and their units as text: the only place that writes a unit. */

const GAP = "\u00a0";
const MINUS = "\u2212";

const known = (value) => typeof value === "number" && Number.isFinite(value);

function fixed(value, digits) {
  const text = Math.abs(value).toFixed(digits);
  return value < 0 && Number(text) !== 0 ? MINUS + text : text;
}

/** 0.008 → "1/125 s"; 1.3 → "1.3 s". From a third of a second on the trade writes decimals. */
export function shutter(seconds) {
  if (!known(seconds) || !(seconds > 0)) return "–";
  if (seconds < 0.29) return `1/${Math.round(1 / seconds)}${GAP}s`;
  return `${trimmed(seconds, seconds < 10 ? 1 : 0)}${GAP}s`;
}

export function aperture(number) {
  return known(number) && number > 0 ? `f/${trimmed(number, 1)}` : "f/–";
}

export function iso(speed) {
  return known(speed) ? `ISO${GAP}${Math.round(speed)}` : `ISO${GAP}–`;
}

export function ev(value) {
  return `EV${GAP}${evNumber(value)}`;
}

/** Without "EV", for an axis or a column that says it. */
export function evNumber(value, digits = 1) {
  return known(value) ? fixed(value, digits) : "–";
}

/** A difference, with its sign: "+1.3". */
export function stops(value) {
  if (!known(value)) return "–";
  const text = fixed(value, 1);
  return value > 0 && Number(text) !== 0 ? `+${text}` : text;
}

/** A difference to a hundredth of a stop, without its unit: "+0.12". */
export function fineStops(value) {
  if (!known(value)) return "–";
  const text = fixed(value, 2);
  return value > 0 && Number(text) !== 0 ? `+${text}` : text;
}

/** A difference of light in words: "0.12 stop brighter", "1.6 stops darker". */
export function lightChange(value) {
  if (!known(value)) return "–";
  const size = Math.abs(value);
  const text = size.toFixed(size < 1 ? 2 : 1);
  if (Number(text) === 0) return "the same light";
  return `${text}${GAP}${size < 1 ? "stop" : "stops"} ${value > 0 ? "brighter" : "darker"}`;
}

/** A ratio less 1 as a change in per cent: "+1.3 %". */
export function change(lessOne) {
  if (!known(lessOne)) return "–";
  const text = fixed(lessOne * 100, 1);
  return `${Number(text.replace(MINUS, "-")) > 0 ? "+" : ""}${text}${GAP}%`;
}

/** A part of 1 as whole per cent, for places in a picture: "44 %". */
export function place(part) {
  return known(part) ? `${Math.round(part * 100)}${GAP}%` : "–";
}

/** A width: "8.8 stops". */
export function width(value) {
  if (!known(value)) return "–";
  const text = Math.abs(value).toFixed(1);
  return `${text}${GAP}${text === "1.0" ? "stop" : "stops"}`;
}

/** A distance in metres: "1.2 m", "40 m". */
export function length(metres) {
  return known(metres) ? `${trimmed(metres, metres < 10 ? 1 : 0)}${GAP}m` : "–";
}

/** A focal length: "24 mm". */
export function millimetres(value) {
  return known(value) ? `${trimmed(value, 0)}${GAP}mm` : "–";
}

/** How fast something moves: "0.5 m/s". */
export function speed(metresPerSecond) {
  return known(metresPerSecond) ? `${trimmed(metresPerSecond, 1)}${GAP}m/s` : "–";
}

/** A share of 1 as per cent: "0.01 %", "1.2 %", "31 %". What is there is never written as 0. */
export function share(value) {
  if (!known(value)) return "–";
  const percent = value * 100;
  if (percent === 0) return `0${GAP}%`;
  if (percent < 0.01) return `under${GAP}0.01${GAP}%`;
  if (percent < 1) return `${trimmed(percent, 2)}${GAP}%`;
  if (percent < 10) return `${trimmed(percent, 1)}${GAP}%`;
  if (percent < 100 && percent > 99) return `over${GAP}99${GAP}%`;
  return `${Math.round(percent)}${GAP}%`;
}

/** Shutter, aperture and ISO in a line, parted by wider gaps. */
export function exposure({ shutterSeconds, aperture: number, iso: speed }) {
  return [shutter(shutterSeconds), aperture(number), iso(speed)].join("  ");
}

/** What is known of an exposure, in a line; "" where nothing is. */
export function knownExposure({ shutterSeconds, aperture: number, iso: speed }) {
  return [
    known(shutterSeconds) ? shutter(shutterSeconds) : null,
    known(number) ? aperture(number) : null,
    known(speed) ? iso(speed) : null,
  ]
    .filter(Boolean)
    .join("  ");
}

/** A length of time that is only estimated: "4 s", "2 min". */
export function seconds(value) {
  if (!known(value)) return "–";
  if (value < 90) return `${trimmed(value, value < 9.95 ? 1 : 0)}${GAP}s`;
  return `${Math.round(value / 60)}${GAP}min`;
}

/** A signal-to-noise ratio: "9.8", "24". */
export function ratio(value) {
  return known(value) ? trimmed(value, value < 9.95 ? 1 : 0) : "–";
}

/** 41 → "0:41"; 3723 → "1:02:03". */
export function duration(seconds) {
  if (!known(seconds)) return "–";
  const whole = Math.floor(seconds);
  const pair = (value) => String(value).padStart(2, "0");
  const minutes = Math.floor(whole / 60);
  return minutes < 60
    ? `${minutes}:${pair(whole % 60)}`
    : `${Math.floor(minutes / 60)}:${pair(minutes % 60)}:${pair(whole % 60)}`;
}

/** An instant as the device's own time of day. */
export function clock(instant) {
  const date = new Date(instant);
  if (Number.isNaN(date.getTime())) return "–";
  const pair = (value) => String(value).padStart(2, "0");
  return `${pair(date.getHours())}:${pair(date.getMinutes())}:${pair(date.getSeconds())}`;
}

/** The same without seconds: "05:41". */
export const timeOfDay = (instant) => clock(instant).slice(0, 5);

/** An angle: "4.2°". */
export function degrees(value, digits = 1) {
  return known(value) ? `${fixed(value, digits)}°` : "–";
}

/** A small width: "0.103 stop". */
export function fineWidth(value) {
  return known(value) ? `${trimmed(Math.abs(value), 4)}${GAP}stop` : "–";
}

/** 1 → "1 frame", 3 → "3 frames". */
export function count(number, word) {
  return `${number}${GAP}${word}${number === 1 ? "" : "s"}`;
}

function trimmed(value, digits) {
  const text = value.toFixed(digits);
  return digits > 0 ? text.replace(/\.?0+$/, "") : text;
}

/** "6 clicks": a dial is turned by what is felt, not by what is seen. */
export function clicks(number) {
  return count(number, "click");
}
