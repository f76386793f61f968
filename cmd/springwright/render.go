package main

import (
	"fmt"
	"time"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/export"
	"springwright/export/phrase"
	"springwright/optimize"
)

// sheetFacts is what a sheet tells about itself.
type sheetFacts struct {
	paper       export.Paper
	language    phrase.Language
	printer     export.Printer
	twin        bool
	stages      bool
	pages       []export.Page
	date        time.Time
	fingerprint string
	teeth       design.TeethReport
}

// render turns a result into the files of a design, and lists what they say in English for
// want of a translation.
func render(wanted design.Case, r optimize.Result, facts sheetFacts) (files []output, untranslated []string, err error) {
	job := export.Job{
		Teeth:       &facts.teeth,
		Case:        wanted,
		Spring:      r.Spring,
		Evaluation:  r.Evaluation,
		Checks:      checks(wanted, r),
		Version:     version,
		Fingerprint: facts.fingerprint,
		Date:        facts.date.Format(time.DateOnly),
		Paper:       facts.paper,
		Printer:     facts.printer,
		Language:    facts.language,
		Twin:        facts.twin,
		Stages:      facts.stages,
		Pages:       facts.pages,
	}
	template, err := export.Sheet(job)
	if err != nil {
		return nil, nil, err
	}
	pages, err := export.SVG(job)
	if err != nil {
		return nil, nil, err
	}
	bends, err := export.BendsCSV(job)
	if err != nil {
		return nil, nil, err
	}
	corners, err := export.CornersCSV(job)
	if err != nil {
		return nil, nil, err
	}
	record, err := casefile.WriteCaseRecord(r.Evaluation.Record, wanted.AtResistance(r.Evaluation.Record))
	if err != nil {
		return nil, nil, err
	}
	if facts.language != phrase.English {
		if untranslated, err = export.Untranslated(job); err != nil {
			return nil, nil, err
		}
	}
	files = []output{{"template.pdf", template}}
	for i, page := range pages {
		files = append(files, output{fmt.Sprintf("template-%d.svg", i+1), page})
	}
	return append(files,
		output{"spring.toml", casefile.WriteSpring(r.Spring)},
		output{"record.json", record},
		output{"bends.csv", bends},
		output{"corners.csv", corners},
	), untranslated, nil
}
