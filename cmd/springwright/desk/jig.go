package desk

import (
	"errors"
	"net/http"
	"strings"

	"springwright/design/casefile"
	"springwright/design/quantity"
	"springwright/export/jig"
)

// jigAnswer is a plate to print in plastic: the STL file, and what is told of it.
type jigAnswer struct {
	Name  string   `json:"name"`
	STL   []byte   `json:"stl"`
	Lines []string `json:"lines"`
}

// jig makes the plate of a spring, as the command of that name does.
func (a *api) jig(w http.ResponseWriter, r *http.Request) {
	q, ok := request[struct {
		Text      string `json:"text"`
		Spring    string `json:"spring"`
		Lang      string `json:"lang"`
		Clearance string `json:"clearance"` // mm on each side of the wire; "" for the usual one
	}](w, r)
	if !ok {
		return
	}
	b := book(q.Lang)
	c, made, err := a.madeFor(q.Text, q.Spring)
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	options := jig.Options{ClearanceMM: jig.UsualClearanceMM, Code: c.Code, Fingerprint: casefile.FingerprintOf([]byte(q.Spring))}
	if typed := strings.Replace(strings.TrimSpace(q.Clearance), ",", ".", 1); typed != "" {
		mm, err := quantity.ParseBare(typed, quantity.Millimetre)
		if err != nil || !(mm >= jig.LeastClearanceMM && mm <= jig.MostClearanceMM) {
			said := b.Say("write %s to %s mm of room on each side of the wire", b.Number(jig.LeastClearanceMM, 2), b.Number(jig.MostClearanceMM, 2))
			answer(w, http.StatusUnprocessableEntity, failed{Error: said, Faults: []faultJSON{{Key: "clearance", Text: said}}})
			return
		}
		options.ClearanceMM = mm
	}
	plate, err := jig.Of(made, c.Teeth, options)
	if err != nil {
		text, _, _ := strings.Cut(err.Error(), "\n")
		refuse(w, http.StatusUnprocessableEntity, errors.New(text), "")
		return
	}
	answer(w, http.StatusOK, jigAnswer{madeStem(c.Code) + "-jig.stl", plate.STL(), b.Jig(plate)})
}
