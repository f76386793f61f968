package main

import (
	"fmt"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/spring"
	"springwright/export"
	"springwright/optimize/asbent"
)

// files are the sheet of a spring as bent, and the springs that its corrections make of it.
func (o adjustOptions) files(c design.Case, drawn spring.Spring, r asbent.Report, fingerprint string) ([]output, error) {
	date, err := sheetDate()
	if err != nil {
		return nil, err
	}
	sheet := export.AsBent{
		Frame: export.Frame{Version: version, Fingerprint: fingerprint, Date: date, Paper: o.paper, Language: o.language, Printer: o.printer},
		Case:  c, Drawn: drawn, Bent: r.AsBent.Spring, Chance: r.AsBent.Trial.Chance(), HasTarget: r.HasTarget,
	}
	var corrected []output
	for _, made := range [...]*asbent.Corrected{r.One, r.Two} {
		if made == nil {
			continue
		}
		way := export.BentWay{Chance: made.Trial.Chance()}
		for _, change := range made.Corrections {
			way.Changes = append(way.Changes, export.BentChange{Step: change.Step, Fresh: change.Fresh, ByRad: change.ByRad})
		}
		sheet.Ways = append(sheet.Ways, way)
		s := made.Spring
		s.Shortfall = made.Shortfall()
		corrected = append(corrected, output{fmt.Sprintf("corrected-%d.toml", len(corrected)+1), casefile.WriteSpring(s)})
	}
	file, pages, err := export.AsBentSheets(sheet)
	if err != nil {
		return nil, err
	}
	return append(pageFiles("as-bent", file, pages), corrected...), nil
}
