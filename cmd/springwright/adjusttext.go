package main

import (
	"strings"

	"springwright/design"
	"springwright/design/bent"
	"springwright/design/casefile"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// adjustText is what is told of a spring as it was bent, what to do about it first.
func adjustText(c design.Case, drawn spring.Spring, r bent.Report, dir string, files []output) string {
	var text tableText
	told := english().Bent(c, drawn, r)
	if name := caseName(c); name != "" {
		text.line("%s", name)
	}
	text.line("%s\n\n%s", told.Wire, told.Usable)
	for _, miss := range told.Misses {
		text.line("  %s", miss)
	}
	for _, chance := range told.Chances {
		text.line("%s", chance)
	}
	for _, way := range told.Ways {
		text.line("\n%s: %s", way.Title, way.Text)
		for _, line := range way.Lines {
			text.line("  %s", line)
		}
	}
	if len(told.Ways) > 0 {
		text.line("")
	}
	if told.After != "" {
		text.line("%s", told.After)
	}
	text.asked(told.Asked)
	text.line("")
	text.labelled(told.Steps)
	for _, note := range told.Notes {
		text.line("%s", note)
	}
	for _, loads := range told.Loads {
		text.line("\n%s", loads.Title)
		var rows [][]string
		for _, row := range loads.Rows {
			rows = append(rows, append(row, ""))
		}
		text.table(rows)
	}
	if len(told.Loads) > 0 {
		words := axisWords()
		if drawn.Teeth != (tooth.Pair{}) {
			words = pairWords(drawn.Teeth)
		}
		text.line("\n%s", words.legend)
	}
	if len(files) > 0 {
		text.line("")
		text.written(dir, files)
	}
	text.line("\n%s", told.Caution)
	return text.String()
}

// asked writes what is asked of each load and what becomes of it, a load in two lines: beside each other names,
// windows and three values are too wide for a terminal.
func (t *tableText) asked(rows [][]string) {
	if len(rows) == 0 {
		return
	}
	heads := rows[0]
	t.line("\n  %s", heads[0])
	for _, row := range rows[1:] {
		var cells []string
		for k := 1; k < len(row); k++ {
			cells = append(cells, heads[k]+" "+row[k])
		}
		t.line("  %s\n      %s", row[0], strings.Join(cells, "; "))
	}
}

// doubt says which readings to take again.
func (c console) doubt(s spring.Spring, doubts []bent.Doubt) {
	for _, d := range doubts {
		text, hint := english().Doubt(d, casefile.StepKeys(s.Path))
		c.say("warning", text)
		c.say("hint", hint)
	}
}

// caseName is how a case is called on the terminal.
func caseName(c design.Case) string {
	if c.Code == "" {
		return c.Title
	}
	return "case " + c.Code + ": " + c.Title
}
