package desk

import (
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"path/filepath"
	"strings"

	"springwright/cmd/springwright/batch"
	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/orders"
	"springwright/presets"
)

const ordersPath = "/api/v1/orders/"

const (
	largestList     = 8 << 20  // bytes of an order list: some ten thousand rows (choice)
	mostOrdersBytes = 12 << 20 // as JSON, in which bytes are written as text, four letters for three
	mostFaultsShown = 200      // nobody mends more before looking again (choice)
)

// orderSource is what orders are read from: a list that was dropped onto the page, one of the folder, or, without a
// name, the cases of the folder.
type orderSource struct {
	Name string `json:"name"`
	Data []byte `json:"data"` // of a list that was dropped
}

// listed are orders as they were read.
type listed struct {
	orders      []orders.Order
	name        string // as papers tell it
	fingerprint string
}

// caseFile reads a file that a list or a case names, from inside the folder alone.
func (a *api) caseFile(name string) ([]byte, error) {
	data, err := a.folder.file(filepath.ToSlash(filepath.Clean(name)))
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read from the folder of the desk: %w", name, reasonOf(err))
	}
	return data, nil
}

// reasonOf is a file's error without the operation and a second mention of the name.
func reasonOf(err error) error {
	var of *fs.PathError
	if errors.As(err, &of) {
		return of.Err
	}
	return err
}

func (a *api) listOf(q orderSource) (listed, error) {
	if q.Name == "" {
		return a.casesListed()
	}
	name, data := filepath.Base(q.Name), q.Data
	if data == nil {
		var err error
		if !isList(q.Name) {
			return listed{}, fault.List{{File: q.Name, Text: "is no list of the folder", Hint: "choose a file that ends in .csv"}}
		}
		if data, err = a.folder.fileUpTo(q.Name, largestList); err != nil {
			return listed{}, fault.List{{File: q.Name, Text: "cannot be read: " + reasonOf(err).Error()}}
		}
	}
	list, err := orders.ReadTable(name, data, orders.Starts{
		Presets: presets.Names(),
		Preset: func(name string) ([]byte, error) {
			text, _, err := presets.Case(name)
			return text, err
		},
		CaseFile: a.caseFile,
	})
	return listed{list, name, casefile.FingerprintOf(data)}, err
}

// isList tells whether a file of the folder may be a list of orders, by its name.
func isList(name string) bool {
	return strings.HasSuffix(strings.ToLower(name), ".csv") && !strings.HasPrefix(name, ".") && !strings.ContainsAny(name, `/\`)
}

// casesListed are the cases of the folder as orders.
func (a *api) casesListed() (listed, error) {
	out := listed{name: a.folderLabel()}
	names, err := a.folder.plain()
	if err != nil {
		return out, err
	}
	var texts [][]byte
	for _, name := range batch.CaseNames(names) {
		text, err := a.folder.file(name)
		if err != nil {
			return out, fault.List{{File: name, Text: "cannot be read: " + reasonOf(err).Error()}}
		}
		out.orders, texts = append(out.orders, orders.OfFile(name, len(out.orders)+1, text)), append(texts, text)
	}
	if len(out.orders) == 0 {
		return out, fault.List{{Text: "the folder holds no case yet", Hint: "save a case under \"One spring\", or choose an order list"}}
	}
	out.orders = orders.OfFiles(out.orders)
	out.fingerprint = casefile.FingerprintOf(texts...)
	return out, nil
}

// folderLabel is the folder's own name.
func (a *api) folderLabel() string {
	whole, err := filepath.Abs(a.options.Folder)
	if err != nil {
		return a.options.Folder
	}
	return filepath.Base(whole)
}

// checkedList is what is told of a list before anything is made.
type checkedList struct {
	Name   string       `json:"name"`
	Text   string       `json:"text"`
	Count  int          `json:"count"` // springs
	Good   int          `json:"good"`  // of them without a fault
	Faults []orderFault `json:"faults"`
	More   string       `json:"more"` // how many faults are not shown; "" for none
	Folder string       `json:"folder"`
}

// orderFault is a fault of a list, by its row and cell.
type orderFault struct {
	File string `json:"file"`
	Row  int    `json:"row"`  // 0: not a row of a list
	Cell string `json:"cell"` // "": of the whole row
	Key  string `json:"key"`
	Text string `json:"text"`
	Hint string `json:"hint"`
}

func orderFaultOf(f fault.Fault, table bool) orderFault {
	out := orderFault{File: f.File, Key: f.Key, Text: f.Text, Hint: f.Hint}
	if !table {
		return out
	}
	out.Row = f.Line
	if at := strings.LastIndex(f.Key, " (cell "); at >= 0 && f.Line > 0 && f.Column > 0 {
		out.Cell, out.Key = orders.CellName(f.Column, f.Line), f.Key[:at]
	} else if strings.HasPrefix(f.Key, "row ") {
		out.Key = ""
	}
	return out
}

// checkOrders reads a list and says what is wrong with it, by row and cell; nothing is made.
func (a *api) checkOrders(w http.ResponseWriter, r *http.Request) {
	q, ok := request[struct {
		orderSource
		Lang string `json:"lang"`
	}](w, r)
	if !ok {
		return
	}
	b := book(q.Lang)
	of, err := a.listOf(q.orderSource)
	out := checkedList{Name: of.name, Count: len(of.orders), Faults: []orderFault{}, Folder: madeFolder(of.name)}
	var all fault.List
	switch list, isList := err.(fault.List); {
	case isList:
		all = list
		out.Name = q.Name
	case err != nil:
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	for _, o := range of.orders {
		if r.Context().Err() != nil {
			return
		}
		_, _, err := o.Case()
		var list fault.List
		switch {
		case err == nil:
			out.Good++
		case !errors.As(err, &list):
			list = fault.List{{File: o.File, Line: o.Row, Text: err.Error()}}
		}
		if !o.Twin { // its faults are those of its spring
			all = append(all, list...)
		}
	}
	for i, f := range all {
		if i == mostFaultsShown {
			out.More = b.Say("and %d more", len(all)-i)
			break
		}
		out.Faults = append(out.Faults, orderFaultOf(f, q.Name != ""))
	}
	if out.Count > 0 {
		out.Text = b.Say("Springs: %d, without a fault %d.", out.Count, out.Good)
	}
	answer(w, http.StatusOK, out)
}

// madeFolder is the name of a folder for the springs of a list.
func madeFolder(list string) string {
	stem := strings.TrimSuffix(list, filepath.Ext(list))
	name := strings.Trim(strings.Map(func(r rune) rune {
		if r < 0x80 && folderName.MatchString("a"+string(r)) {
			return r
		}
		return '-'
	}, stem), "-._")
	const longest = 60
	if len(name) > longest {
		name = strings.TrimRight(name[:longest], "-._")
	}
	return strings.TrimPrefix(name+"-springs", "-")
}

// blankOrders is a list to begin with.
func (a *api) blankOrders(w http.ResponseWriter, r *http.Request) {
	b := book(r.URL.Query().Get("lang"))
	download(w, "text/csv; charset=utf-8", "orders.csv")
	w.Write(orders.NewTable(b.Language().DecimalComma()))
}
