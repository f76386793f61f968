package main

import (
	"springwright/design"
	"springwright/design/bent"
	"springwright/design/casefile"
	"springwright/design/spring"
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
	for _, rows := range [...][][]string{told.Asked, told.Steps} {
		if len(rows) > 0 {
			text.line("")
			text.labelled(rows)
		}
	}
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
	if len(files) > 0 {
		text.line("")
		text.written(dir, files)
	}
	text.line("\n%s", told.Caution)
	return text.String()
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
