package batch

import (
	"os"
	"path/filepath"
	"strings"

	"springwright/design/casefile"
	"springwright/design/orders"
	"springwright/export/words"
)

// OrderFile is in the folder of each order, and tells what became of it.
const OrderFile = "order.json"

// standing takes over what an earlier run has made of the same input, where that stands.
func (r *run) standing(o *Outcome) bool {
	data, err := os.ReadFile(filepath.Join(r.Dir, o.Name, OrderFile))
	if err != nil {
		return false
	}
	earlier, err := casefile.ReadOrder(data)
	if err != nil || earlier.Input != o.Input {
		return false
	}
	state, known := orders.ParseState(earlier.State)
	if !known || state != orders.Made && state != orders.Missed {
		return false
	}
	whole, changed := r.Standing(filepath.Join(r.Dir, o.Name))
	if !whole {
		return false
	}
	earlier.Row, earlier.Due = o.Row, o.Due
	o.OrderOutcome, o.State = earlier, state
	if len(changed) > 0 {
		o.Lacking = append(o.Lacking, words.NewBook(r.Frame.Language).Say("changed after it was made: %s", strings.Join(changed, ", ")))
	}
	return true
}

// kept is what is written of an outcome into its folder: what the order alone decides.
func (o Outcome) kept(program string) (File, error) {
	alone := o.OrderOutcome
	alone.State, alone.Row, alone.Due = o.State.String(), 0, ""
	data, err := casefile.WriteOrder(casefile.Origin{Program: program}, alone)
	return File{Name: OrderFile, Data: data}, err
}
