/** Small hands for the page's elements. Text and attributes are written only when they changed. */

const SVG = "http://www.w3.org/2000/svg";

export const byId = (id) => document.getElementById(id);

export function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

export function set(element, name, value) {
  if (value === null || value === false) {
    if (element.hasAttribute(name)) element.removeAttribute(name);
    return;
  }
  const text = value === true ? "" : String(value);
  if (element.getAttribute(name) !== text) element.setAttribute(name, text);
}

export function show(element, shown) {
  if (element.hidden === shown) element.hidden = !shown;
}

export function make(name, className, text) {
  const element = document.createElement(name);
  if (className) element.className = className;
  if (text !== undefined) element.textContent = text;
  return element;
}

export function makeSvg(name, className) {
  const element = document.createElementNS(SVG, name);
  if (className) element.setAttribute("class", className);
  return element;
}

/** Gives a parent as many children as there are items, and lets each be brought up to date. */
export function fill(parent, items, create, update) {
  while (parent.childElementCount > items.length) parent.lastElementChild.remove();
  items.forEach((item, index) => {
    let child = parent.children[index];
    if (child === undefined) {
      child = create(item);
      parent.append(child);
    }
    update(child, item);
  });
}

const percent = (part) => 100 * part + "%";

/** Lays a box over a part of the picture. */
export function lay(element, { left, top, width, height }) {
  element.style.left = percent(left);
  element.style.top = percent(top);
  element.style.width = percent(width);
  element.style.height = percent(height);
}
