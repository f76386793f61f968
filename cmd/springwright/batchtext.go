package main

import (
	"fmt"
	"strings"

	"springwright/cmd/springwright/batch"
	"springwright/design/casefile"
	"springwright/design/orders"
)

// batchText is what became of the orders, on standard output: how many are in which state, and each that is
// not simply made.
func batchText(all []batch.Outcome, from string, o batchOptions, files []output) string {
	var text tableText
	fresh := 0
	for _, out := range all {
		if out.Fresh {
			fresh++
		}
	}
	title := printable(shownName(from))
	if part := o.part.String(); part != "" {
		title += ", part " + part
	}
	text.line("%s: springs %d, made by this run %d", title, len(all), fresh)
	counts := batch.Counts(all)
	var rows [][]string
	for s := orders.Open; s <= orders.InTheWay; s++ {
		if n := counts[s]; n > 0 {
			rows = append(rows, []string{s.String(), fmt.Sprint(n)})
		}
	}
	text.labelled(rows)
	const most = 20 // a screenful; all stand on the cover sheet
	shown := 0
	for _, out := range all {
		if len(out.Lacking) == 0 {
			continue
		}
		if shown++; shown == 1 {
			text.line("")
		}
		if shown <= most {
			name := printable(out.Order.Code)
			if out.Twin {
				name += ", twin"
			}
			if out.Row > 0 && out.Order.FromTable() {
				name = fmt.Sprintf("%s (row %d)", name, out.Row)
			}
			text.line("%s: %s: %s", name, out.State, printable(strings.Join(out.Lacking, "; ")))
		}
	}
	if shown > most {
		text.line("and %d more", shown-most)
	}
	text.line("")
	if len(files) > 0 {
		text.written(o.out, files)
		text.line("\nA folder for each spring is beside them. Print at 100 %% and measure both bars.")
	} else {
		text.line("A folder for each spring is in %s. Copy those of all parts together and run the list once more", printable(o.out))
		text.line("without --part: that makes the cover sheet, the labels and the cut list.")
	}
	return text.String()
}

// batchJSON is the same for programs.
func batchJSON(all []batch.Outcome, from, fingerprint string, o batchOptions, files []output) (string, error) {
	result := casefile.BatchResult{List: from, Part: o.part.String(), Directory: o.out}
	for _, out := range all {
		one := out.OrderOutcome
		one.State = out.State.String()
		result.Orders = append(result.Orders, one)
	}
	for _, f := range files {
		result.Files = append(result.Files, casefile.File{Name: f.name, Bytes: len(f.data), SHA256: checksum(f.data)})
	}
	text, err := casefile.WriteBatch(origin(fingerprint), result)
	return string(text), err
}

// say shows a text in place of the line, at most once every progressInterval.
func (p *progress) say(text string) {
	if p.out == nil {
		return
	}
	now := p.now()
	if now.Sub(p.last) < progressInterval {
		return
	}
	p.last = now
	p.show(text)
}
