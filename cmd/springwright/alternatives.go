package main

import (
	"fmt"
	"path/filepath"

	"springwright/design/casefile"
	"springwright/optimize"
)

// alternativeFiles are the spring files of the other designs that meet the target.
func alternativeFiles(r optimize.Result) []output {
	var files []output
	for i, a := range r.Alternatives {
		files = append(files, output{alternativeName(i), casefile.WriteSpring(a.Spring)})
	}
	return files
}

func alternativeName(i int) string { return fmt.Sprintf("alternative-%d.toml", i+1) }

// alternativesText says what each other design trades, a line each, and what bends buy.
func alternativesText(text *tableText, r optimize.Result, dir string) {
	if len(r.Spared) > 1 {
		text.line("")
		for _, s := range r.Spared {
			bends := "bends"
			if s.Bends == 1 {
				bends = "bend"
			}
			text.line("with %d pre-activation %s the worst load uses %.0f %% of its tolerance, before rounding", s.Bends, bends, 100*s.Worst)
		}
	}
	if len(r.Alternatives) == 0 {
		return
	}
	text.line("\nother designs that meet the target as drawn")
	rows := [][]string{{"", "N/mm", "bends", "met by hand", "couple, N·mm", "file"}, traitsRow("this one", r.Traits, r.After, printable(filepath.Join(dir, "spring.toml")))}
	for i, a := range r.Alternatives {
		rows = append(rows, traitsRow(a.Merit.String(), a.Traits, a.After, printable(filepath.Join(dir, alternativeName(i)))))
	}
	text.labelled(rows)
}

func traitsRow(name string, t optimize.Traits, s optimize.Summary, file string) []string {
	return []string{name, fixed(t.RateNPerMM, 2), fmt.Sprint(t.Bends), fmt.Sprintf("%.0f %%", 100*t.Share), fixed(s.CoupleNMM, 2), file}
}
