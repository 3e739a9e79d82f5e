// What the other modules share of the document.

export const by = (id) => document.getElementById(id);

// An element with its properties and what is in it; words are never taken for markup.
export function made(tag, properties = {}, ...inside) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(properties)) element[name] = value;
  element.append(...inside);
  return element;
}
