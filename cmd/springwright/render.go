package main

import (
	"springwright/design/casefile"
	"springwright/design/effect"
	"springwright/design/report"
	"springwright/export"
)

// job is a result to be put on paper as the flags say.
func (o designOptions) job(r report.Report) export.Job {
	return export.Job{
		Frame:  export.Frame{Version: version, Paper: o.paper, Printer: o.printer, Language: o.language},
		Report: r,
		Twin:   o.twin,
		Stages: o.stages,
		Pages:  o.pages,
	}
}

// render turns a job into the files of a design.
func render(job export.Job) ([]output, error) {
	template, pages, err := export.Sheets(job)
	if err != nil {
		return nil, err
	}
	data, err := renderData(job)
	return append(pageFiles("template", template, pages), data...), err
}

// renderData turns a job into the files of a design that are no pages.
func renderData(job export.Job) ([]output, error) {
	bends, err := export.BendsCSV(job)
	if err != nil {
		return nil, err
	}
	corners, err := export.CornersCSV(job)
	if err != nil {
		return nil, err
	}
	motions, err := export.LRACSV(job)
	if err != nil {
		return nil, err
	}
	points, err := export.XYZCSV(job)
	if err != nil {
		return nil, err
	}
	record, err := casefile.WriteCaseRecord(origin(job.Fingerprint), job.Spring.Wire, job.Evaluation.Record, effect.AtResistance(job.Case, job.Evaluation.Record), job.Teeth.Anchors)
	if err != nil {
		return nil, err
	}
	return []output{
		{"spring.toml", casefile.WriteSpring(job.Spring)},
		{"record.json", record},
		{"bends.csv", bends},
		{"corners.csv", corners},
		{"lra.csv", motions},
		{"xyz.csv", points},
	}, nil
}
