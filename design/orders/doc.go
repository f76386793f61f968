// Package orders reads what a laboratory has to make on a day: a table of orders (CSV, as spreadsheets save
// it) or a folder of case files. It gives each order a name that is safe on every file system, puts them in
// the order of the day, shares them out over machines, and cuts their wires from stock lengths.
//
// Rows and columns are counted as a spreadsheet counts them, comments and blank rows included.
package orders
