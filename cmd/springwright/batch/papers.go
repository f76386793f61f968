package batch

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"springwright/design/casefile"
	"springwright/design/orders"
	"springwright/export"
	"springwright/export/words"
)

// Day is the day's orders as they are put on paper.
func Day(all []Outcome, list string, frame export.Frame, stockMM float64) export.Day {
	day := export.Day{Frame: frame, List: list, StockMM: stockMM}
	for _, o := range all {
		line := export.DayOrder{
			Code: o.OrderOutcome.Order, Name: o.Name, Twin: o.Twin, Due: o.Due, Teeth: o.Teeth,
			Wire: o.Wire, CutMM: o.CutMM, Fingerprint: o.Fingerprint, State: o.State, Lacking: o.Lacking,
		}
		if o.Order.FromTable() {
			line.Row = o.Row
		}
		if o.Share >= 0 {
			line.Share = words.InHundred(o.Share)
		}
		day.Orders = append(day.Orders, line)
	}
	return day
}

// Papers are the files beside the folders of the orders: cover sheet, labels, summary and cut list.
func Papers(all []Outcome, day export.Day) ([]File, error) {
	covers, err := day.Cover()
	if err != nil {
		return nil, err
	}
	labels, err := day.Labels()
	if err != nil {
		return nil, err
	}
	files := append(numbered("cover", covers), numbered("labels", labels)...)
	return append(files, File{Name: "summary.csv", Data: summary(all)}, File{Name: "cut-list.csv", Data: cutList(day)}), nil
}

// numbered are files of one name, counted from the second on.
func numbered(name string, all [][]byte) []File {
	var files []File
	for i, data := range all {
		if i == 0 {
			files = append(files, File{Name: name + ".pdf", Data: data})
		} else {
			files = append(files, File{Name: fmt.Sprintf("%s-%d.pdf", name, i+1), Data: data})
		}
	}
	return files
}

// summary is a row an order, for a spreadsheet.
func summary(all []Outcome) []byte {
	rows := [][]string{{"order", "folder", "twin", "row", "due", "state", "lacking", "active", "anchor", "side", "wire", "cut_mm", "share", "fingerprint"}}
	number := func(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }
	for _, o := range all {
		row := []string{
			o.OrderOutcome.Order, o.Name, yes(o.Twin), fmt.Sprint(o.Row), o.Due, o.State.String(), safeCell(strings.Join(o.Lacking, "; ")),
			"", "", casefile.Side(o.Teeth), o.Wire, "", "", o.Fingerprint,
		}
		if o.Teeth.Active != 0 {
			row[7], row[8] = fmt.Sprint(int(o.Teeth.Active)), fmt.Sprint(int(o.Teeth.Anchor))
		}
		if o.CutMM > 0 {
			row[11] = number(o.CutMM, 1)
		}
		if o.Share >= 0 {
			row[12] = number(o.Share, 3)
		}
		row[0] = safeCell(row[0])
		rows = append(rows, row)
	}
	return table(rows)
}

// safeCell keeps a spreadsheet from taking a text that somebody else wrote for a formula.
func safeCell(text string) string {
	if text != "" && strings.ContainsAny(text[:1], "=+-@\t\r") {
		return "'" + text
	}
	return text
}

func yes(is bool) string {
	if is {
		return "yes"
	}
	return "no"
}

func cutList(day export.Day) []byte {
	rows := [][]string{{"wire", "stock_length", "order", "cut_mm", "left_mm"}}
	for _, w := range day.Cuts() {
		for n, l := range w.Lengths {
			for i, p := range l.Pieces {
				left := ""
				if i == len(l.Pieces)-1 {
					left = strconv.FormatFloat(max(0, l.LeftMM), 'f', 1, 64)
				}
				rows = append(rows, []string{w.Wire, fmt.Sprint(n + 1), p.Order, strconv.FormatFloat(p.LengthMM, 'f', 1, 64), left})
			}
		}
	}
	return table(rows)
}

func table(rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	_ = w.WriteAll(rows) // a buffer takes everything
	return b.Bytes()
}

// Counts says how many orders are in each state.
func Counts(all []Outcome) map[orders.State]int {
	counts := map[orders.State]int{}
	for _, o := range all {
		counts[o.State]++
	}
	return counts
}
