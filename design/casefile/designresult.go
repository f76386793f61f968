package casefile

import (
	"springwright/design/effect"
	"springwright/design/spring"
	"springwright/design/wire"
)

// DesignResult is what a search has found and which files tell of it.
type DesignResult struct {
	Case         string // its code
	Family       string // of the spring
	Wire         wire.Wire
	Record       spring.Record
	AtResistance []effect.ResistanceLoads // one for each position
	Drifts       []effect.AnchorOutcome
	Directory    string // where the files are
	Files        []File
}

// File is a file that was written.
type File struct {
	Name   string // inside the directory
	Bytes  int
	SHA256 string // hexadecimal
}

type fileJSON struct {
	Name   string `json:"name"`
	Bytes  int    `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// WriteDesignResult is WriteCaseRecord with the case, the kind of spring and the files in front
// of the record.
func WriteDesignResult(from Origin, d DesignResult) ([]byte, error) {
	var w recordWriter
	record, err := w.record(d.Wire, d.Record, d.AtResistance, d.Drifts)
	if err != nil {
		return nil, err
	}
	out := struct {
		headJSON
		Case      string     `json:"case"`
		Family    string     `json:"family"`
		Directory string     `json:"directory"`
		Files     []fileJSON `json:"files"`
		recordJSON
	}{headOfLoads(DesignFormat, from, d.Record.Teeth), d.Case, d.Family, d.Directory, []fileJSON{}, record}
	for _, f := range d.Files {
		out.Files = append(out.Files, fileJSON(f))
	}
	return w.written(out)
}
