package main

import (
	"springwright/design/casefile"
	"springwright/design/effect"
	"springwright/design/report"
)

// designJSON is what came of a search for a kind of spring, for programs.
func designJSON(r report.Report, family, fingerprint, dir string, files []output) (string, error) {
	answer := casefile.DesignResult{
		Case: r.Case.Code, Family: family, Wire: r.Spring.Wire,
		Record: r.Evaluation.Record, AtResistance: effect.AtResistance(r.Case, r.Evaluation.Record), Drifts: r.Teeth.Anchors, Directory: dir,
	}
	for _, f := range files {
		answer.Files = append(answer.Files, casefile.File{Name: f.name, Bytes: len(f.data), SHA256: checksum(f.data)})
	}
	text, err := casefile.WriteDesignResult(origin(fingerprint), answer)
	return string(text), err
}
