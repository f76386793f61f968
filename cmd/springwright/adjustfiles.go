package main

import (
	"springwright/design"
	"springwright/design/bent"
	"springwright/design/spring"
	"springwright/export"
)

// files are the sheet of a spring as bent, and the springs that its corrections make of it.
func (o adjustOptions) files(c design.Case, drawn spring.Spring, r bent.Report, fingerprint string) ([]output, error) {
	date, err := sheetDate()
	if err != nil {
		return nil, err
	}
	frame := export.Frame{Version: version, Fingerprint: fingerprint, Date: date, Paper: o.paper, Language: o.language, Printer: o.printer}
	files, err := export.AsBentFiles(frame, c, drawn, r)
	if err != nil {
		return nil, err
	}
	var list []output
	for _, f := range files {
		list = append(list, output{f.Name, f.Data})
	}
	return list, nil
}
