// What the page holds: the text of the case and of the spring, and what of them is not saved.
// Numbers, words and drawings come from the server.

export const desk = {
  lang: "en", place: "one", step: "measure", file: "", tag: "", text: "", saved: "", form: null, senses: {},
  spring: "", savedSpring: "", springTag: "", values: null, live: null, report: null, found: null,
  design: "", undo: [], redo: [], here: 0, search: null, ways: null, bent: null, visits: null, history: false, examples: [],
};
window.desk = desk; // for tests of the page

export const by = id => document.getElementById(id);

// example tells whether the case that is open is one of the program's.
export const example = () => desk.examples.some(c => c.name === desk.file);

// unsaved tells whether something of the user's would be lost; the example as it was designed is not.
export const unsaved = () => desk.text !== desk.saved || desk.spring !== desk.savedSpring && !(example() && !desk.tag && desk.spring === desk.design);

// blank forgets all that belongs to a case before another one is opened.
export function blank() {
  Object.assign(desk, { values: null, live: null, report: null, found: null, design: "", undo: [], redo: [], senses: {}, here: 0, ways: null, filled: false, searchError: "", bent: null, visits: null });
}
