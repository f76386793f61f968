package export

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"springwright/design/orders"
	"springwright/design/tooth"
	"springwright/export/words"
)

// busyDay is orders in every state, with long codes and letters that the typeface lacks.
func busyDay(n int) Day {
	d := Day{Frame: Frame{Version: "0", Date: "2026-11-27", Fingerprint: "0123456789"}, List: "orders of 日本.csv", StockMM: 350}
	for i := range n {
		o := DayOrder{
			Code: fmt.Sprintf("A-%04d", i), Name: fmt.Sprintf("A-%04d", i), Row: i + 2, Due: "2026-11-27 14:00", Teeth: tooth.Pair{Anchor: 36, Active: 37},
			Wire: "beta-titanium, 0.432 × 0.635 mm", CutMM: 40 + float64(i%50), Share: "96", Fingerprint: "0123456789", State: orders.Made,
		}
		switch i % 6 {
		case 1:
			o.State, o.CutMM, o.Wire, o.Share, o.Lacking = orders.Missed, 0, "", "", []string{"couple at the start: 1.2 N·mm, asked ±0.5 N·mm"}
		case 2:
			o.Code, o.Twin, o.Teeth = "עברית 😀", true, tooth.Pair{Anchor: 46, Active: 47}
		case 3:
			o.Code, o.State, o.Teeth, o.CutMM, o.Lacking = strings.Repeat("W", 64), orders.Faulty, tooth.Pair{}, 0, []string{"A now.along_mm (cell G15): \"日\" is no number", strings.Repeat("another fault, ", 30)}
		case 4:
			o.State, o.Lacking = orders.Missed, []string{"of the target"}
		case 5:
			o.State, o.CutMM, o.Due, o.Teeth = orders.Open, 0, "", tooth.Pair{}
		}
		d.Orders = append(d.Orders, o)
	}
	return d
}

// No text of the day's pages touches another one or a line, in any language and on either paper, and nothing is
// cut off but what is longer than any column.
func TestDayPagesAreInOrder(t *testing.T) {
	t.Parallel()
	for l := words.English; l.Valid(); l++ {
		for _, paper := range []Paper{A4, Letter} {
			d := busyDay(100)
			d.Language, d.Paper = l, paper
			cover, err := d.cover(0, len(d.Orders))
			if err != nil {
				t.Fatal(err)
			}
			labels, err := d.labels(0, len(d.toBend()))
			if err != nil {
				t.Fatal(err)
			}
			if len(cover.Pages) < 4 || len(labels.Pages) < 2 {
				t.Errorf("%v, %v: %d pages of the cover sheet, %d of labels", l, paper, len(cover.Pages), len(labels.Pages))
			}
			for _, p := range append(cover.Pages, labels.Pages...) {
				for _, fault := range p.Faults() {
					t.Errorf("%v, %v: %s: %s", l, paper, p.Title, fault)
				}
				for _, text := range p.Texts() {
					if strings.HasSuffix(text, "…") && !strings.HasPrefix(text, "W") {
						t.Errorf("%v, %v: %s: %q is cut off", l, paper, p.Title, text)
					}
				}
			}
		}
	}
}

// Every order stands on the cover sheet, every spring that is to be bent on a label and in the cut list.
func TestDayForgetsNone(t *testing.T) {
	t.Parallel()
	d := busyDay(73)
	cover, err := d.cover(0, len(d.Orders))
	if err != nil {
		t.Fatal(err)
	}
	labels, err := d.labels(0, len(d.toBend()))
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range d.Orders {
		name := o.Name
		if o.Twin {
			name += ", twin"
		}
		if o.State != orders.Faulty && !cover.Says(name) {
			t.Errorf("%s is not on the cover sheet", name)
		}
		if o.cut() != labels.Says(o.Name+" · 0123456789") {
			t.Errorf("%s: to be cut %v, but a label says otherwise", o.Name, o.cut())
		}
	}
	pieces := 0
	for _, w := range d.Cuts() {
		for _, l := range w.Lengths {
			pieces += len(l.Pieces)
		}
	}
	want := 0
	for _, o := range d.Orders {
		if o.cut() {
			want++
		}
	}
	if pieces != want {
		t.Errorf("%d pieces are cut for %d springs", pieces, want)
	}
	if !labels.Says("NOT MET: misses its target") {
		t.Error("no label says that a spring misses its target")
	}
}

func TestDayIsRefused(t *testing.T) {
	t.Parallel()
	for name, d := range map[string]Day{"no order": {StockMM: 1}, "no stock": {Orders: []DayOrder{{}}}, "date": {Frame: Frame{Date: "today"}, Orders: []DayOrder{{}}, StockMM: 1}} {
		if _, err := d.Cover(); err == nil {
			t.Errorf("%s is drawn", name)
		}
	}
	one := busyDay(2)
	one.Orders = one.Orders[1:]
	if files, err := one.Labels(); err != nil || len(files) > 0 {
		t.Errorf("labels without a spring: %d files, %v", len(files), err)
	}
	a, err := busyDay(30).Cover()
	if err != nil {
		t.Fatal(err)
	}
	b, err := busyDay(30).Cover()
	if err != nil || !slices.EqualFunc(a, b, bytes.Equal) {
		t.Errorf("the same orders make other bytes, %v", err)
	}
}

// Long lists go into several documents, which name what they hold; the cut list is in the last.
func TestLongDaysAreSeveralDocuments(t *testing.T) {
	t.Parallel()
	d := busyDay(volumeOrders + 7)
	covers, err := d.Cover()
	if err != nil {
		t.Fatal(err)
	}
	labels, err := d.Labels()
	if err != nil {
		t.Fatal(err)
	}
	if len(covers) != 2 || len(labels) != 1 {
		t.Errorf("%d cover sheets, %d documents of labels", len(covers), len(labels))
	}
	for i, want := range []struct {
		title    string
		cutLists bool
	}{{", 1 to 500 of 507", false}, {", 501 to 507 of 507", true}} {
		doc, err := d.cover(i*volumeOrders, min((i+1)*volumeOrders, len(d.Orders)))
		if err != nil {
			t.Fatal(err)
		}
		if !doc.Says(want.title) || doc.Says("Cut list") != want.cutLists || !doc.Says("Springs: 507.") {
			t.Errorf("document %d: title %v, cut list %v", i+1, doc.Says(want.title), doc.Says("Cut list"))
		}
	}
}
