package main

import (
	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/effect"
	"springwright/export"
	"springwright/optimize"
)

// job is a result to be put on paper as the flags say.
func (o designOptions) job(wanted design.Case, r optimize.Result, teeth effect.TeethReport) export.Job {
	return export.Job{
		Teeth:      &teeth,
		Case:       wanted,
		Spring:     r.Spring,
		Evaluation: r.Evaluation,
		Version:    version,
		Paper:      o.paper,
		Printer:    o.printer,
		Language:   o.language,
		Twin:       o.twin,
		Stages:     o.stages,
		Pages:      o.pages,
	}
}

// render turns a result into the files of a design, and lists what they say in English for
// want of a translation.
func render(job export.Job, wanted design.Case, r optimize.Result) (files []output, untranslated []string, err error) {
	template, pages, untranslated, err := export.Sheets(job)
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
	record, err := casefile.WriteCaseRecord(r.Evaluation.Record, effect.AtResistance(wanted, r.Evaluation.Record), job.Teeth.Anchors)
	if err != nil {
		return nil, nil, err
	}
	return append(pageFiles("template", template, pages),
		output{"spring.toml", casefile.WriteSpring(r.Spring)},
		output{"record.json", record},
		output{"bends.csv", bends},
		output{"corners.csv", corners},
	), untranslated, nil
}
