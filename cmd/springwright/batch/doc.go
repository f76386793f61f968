// Package batch makes the springs of a list of orders: each into a folder of its own, on all cores, so that one
// bad order stops no other, and that a run goes on where another one was stopped. The program and the desk
// share it.
//
// What became of an order stands in its folder, in order.json, with a check value of all that decides its
// files. Folders may be copied together from several machines: the cover sheet is made of them, and of nothing
// else that a machine knows.
package batch
