package casefile

import (
	"encoding/json"
	"fmt"

	"springwright/design/tooth"
)

// OrderOutcome is what became of an order of a batch. What is not known is empty.
type OrderOutcome struct {
	Order       string // its code as written
	Name        string // of its folder
	Twin        bool   // the mirrored spring of the order of that code
	Input       string // check value of all that decides its files: the case, the settings, the program
	Row         int    // of the list; 0: a file of a folder, or not told
	Due         string
	State       string
	Lacking     []string
	Teeth       tooth.Pair
	Wire        string
	CutMM       float64
	Share       float64 // of springs bent in trial that meet the target; below 0 where none were
	Fingerprint string
}

type orderJSON struct {
	Order   string   `json:"order"`
	Name    string   `json:"name"`
	Twin    bool     `json:"twin"`
	Input   string   `json:"input,omitempty"`
	Row     int      `json:"row,omitempty"`
	Due     string   `json:"due,omitempty"`
	State   string   `json:"state"`
	Lacking []string `json:"lacking"`
	Active  int      `json:"active,omitempty"`
	Anchor  int      `json:"anchor,omitempty"`
	Side    string   `json:"side,omitempty"`
	Wire    string   `json:"wire,omitempty"`
	CutMM   float64  `json:"cut_mm,omitempty"`
	Share   *float64 `json:"share,omitempty"`
}

// listedOrder is an order in the list of a batch; one by itself has its fingerprint in its head.
type listedOrder struct {
	orderJSON
	Fingerprint string `json:"fingerprint,omitempty"`
}

// Side is the patient's side of a pair of teeth, in the word of files; "" where it is not known.
func Side(teeth tooth.Pair) string {
	switch {
	case teeth == (tooth.Pair{}):
		return ""
	case teeth.Active.PatientRight():
		return "right"
	}
	return "left"
}

func (o OrderOutcome) json() orderJSON {
	out := orderJSON{
		Order: o.Order, Name: o.Name, Twin: o.Twin, Input: o.Input, Row: o.Row, Due: o.Due, State: o.State, Lacking: append([]string{}, o.Lacking...),
		Active: int(o.Teeth.Active), Anchor: int(o.Teeth.Anchor), Side: Side(o.Teeth), Wire: o.Wire, CutMM: o.CutMM,
	}
	if o.Share >= 0 {
		out.Share = &o.Share
	}
	return out
}

// WriteOrder returns what became of an order as JSON, as it is kept beside its files.
func WriteOrder(from Origin, o OrderOutcome) ([]byte, error) {
	out := struct {
		headJSON
		orderJSON
	}{head(OrderFormat, Origin{Program: from.Program, Fingerprint: o.Fingerprint}), o.json()}
	text, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("order as JSON: %w", err)
	}
	return append(text, '\n'), nil
}

// ReadOrder reads what WriteOrder wrote. The error is about anything else.
func ReadOrder(data []byte) (OrderOutcome, error) {
	var in struct {
		headJSON
		orderJSON
	}
	if err := json.Unmarshal(data, &in); err != nil {
		return OrderOutcome{}, err
	}
	if in.Format != OrderFormat || in.Version != FormatVersion {
		return OrderOutcome{}, fmt.Errorf("is no %q of version %d", OrderFormat, FormatVersion)
	}
	out := OrderOutcome{
		Order: in.Order, Name: in.Name, Twin: in.Twin, Input: in.Input, Row: in.Row, Due: in.Due, State: in.State, Lacking: in.Lacking,
		Teeth: tooth.Pair{Anchor: tooth.Number(in.Anchor), Active: tooth.Number(in.Active)}, Wire: in.Wire, CutMM: in.CutMM, Share: -1, Fingerprint: in.Fingerprint,
	}
	if in.Share != nil {
		out.Share = *in.Share
	}
	return out, nil
}

// BatchResult is what became of a list of orders.
type BatchResult struct {
	List      string // what the orders were read from
	Part      string // such as "3/8"; "" for the whole
	Directory string
	Orders    []OrderOutcome // in the order of the day
	Files     []File         // beside the folders of the orders
}

// WriteBatch returns it as JSON.
func WriteBatch(from Origin, b BatchResult) ([]byte, error) {
	out := struct {
		headJSON
		List      string        `json:"list"`
		Part      string        `json:"part,omitempty"`
		Directory string        `json:"directory"`
		Orders    []listedOrder `json:"orders"`
		Files     []fileJSON    `json:"files"`
	}{head(BatchFormat, from), b.List, b.Part, b.Directory, []listedOrder{}, []fileJSON{}}
	for _, o := range b.Orders {
		out.Orders = append(out.Orders, listedOrder{o.json(), o.Fingerprint})
	}
	for _, f := range b.Files {
		out.Files = append(out.Files, fileJSON(f))
	}
	text, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("batch as JSON: %w", err)
	}
	return append(text, '\n'), nil
}
