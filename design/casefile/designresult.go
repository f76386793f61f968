package casefile

import (
	"fmt"

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
	Directory    string                   // where the files are
	Files        []File
}

// File is a file that was written.
type File struct {
	Name   string // inside the directory
	Bytes  int
	SHA256 string // hexadecimal
}

// WriteDesignResult is WriteCaseRecord with the case, the kind of spring and the files in front
// of the record.
func WriteDesignResult(from Origin, d DesignResult) ([]byte, error) {
	w := recordWriter{}
	w.header(DesignFormat, from)
	fmt.Fprintf(&w.out, "  \"case\": %s,\n  \"family\": %s,\n  \"directory\": %s,\n  \"files\": [",
		w.text("case", d.Case), w.text("family", d.Family), w.text("directory", d.Directory))
	for i, f := range d.Files {
		if i > 0 {
			w.out.WriteByte(',')
		}
		fmt.Fprintf(&w.out, "\n    { \"name\": %s, \"bytes\": %d, \"sha256\": %q }", w.text("name", f.Name), f.Bytes, f.SHA256)
	}
	if len(d.Files) > 0 {
		w.out.WriteString("\n  ")
	}
	w.out.WriteString("],\n")
	return w.caseRecord(d.Wire, d.Record, d.AtResistance)
}
