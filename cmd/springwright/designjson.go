package main

import (
	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/effect"
	"springwright/optimize"
)

// designJSON is what came of a search, for programs.
func designJSON(wanted design.Case, r optimize.Result, fingerprint, dir string, files []output) (string, error) {
	answer := casefile.DesignResult{
		Case: wanted.Code, Family: r.Family, Wire: r.Spring.Wire,
		Record: r.Evaluation.Record, AtResistance: effect.AtResistance(wanted, r.Evaluation.Record), Directory: dir,
	}
	for _, f := range files {
		answer.Files = append(answer.Files, casefile.File{Name: f.name, Bytes: len(f.data), SHA256: checksum(f.data)})
	}
	text, err := casefile.WriteDesignResult(origin(fingerprint), answer)
	return string(text), err
}
