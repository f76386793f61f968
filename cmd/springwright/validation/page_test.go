package validation

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite testdata/validation")

const (
	root   = "../../.." // of the module
	folder = root + "/testdata/validation"
)

// page is the text that is being written, and its pictures by name.
type page struct {
	t        *testing.T
	text     strings.Builder
	pictures map[string][]byte
}

// TestValidationPage holds the page and its pictures against what comes out today; each row also against what may lie
// between the two figures. With -update it writes them.
func TestValidationPage(t *testing.T) {
	p := &page{t: t, pictures: map[string][]byte{}}
	p.line("<!-- Written by TestValidationPage; do not edit: go test ./cmd/springwright/validation -update -->")
	p.line("# What others say, and what springwright says")
	p.line(introduction)
	rods(p)
	solids(p)
	wires(p)
	teeth(p)
	bench(p)
	outside(p)
	defaults(p)
	p.line(unknown)
	if t.Failed() {
		return
	}
	p.pictures["README.md"] = []byte(p.text.String())
	if *update {
		if err := os.MkdirAll(folder, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	for name, made := range p.pictures {
		path := filepath.Join(folder, name)
		if *update {
			if err := os.WriteFile(path, made, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		have, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if difference := firstDifference(string(have), string(made)); difference != "" {
			t.Errorf("%s is no longer what comes out: %s\nlook at it, then go test ./cmd/springwright/validation -update", name, difference)
		}
	}
	files, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if _, made := p.pictures[f.Name()]; !made {
			t.Errorf("%s is not made by this test", f.Name())
		}
	}
}

var number = regexp.MustCompile(`\d+\.?\d*`)

// firstDifference tells where two texts differ, "" where nothing but the last digit of a number does, by one: last
// digits differ between processors.
func firstDifference(have, made string) string {
	haveLines, madeLines := strings.Split(have, "\n"), strings.Split(made, "\n")
	if len(haveLines) != len(madeLines) {
		return fmt.Sprintf("%d lines, was %d", len(madeLines), len(haveLines))
	}
	for i, line := range haveLines {
		if line == madeLines[i] {
			continue
		}
		a, b := number.FindAllString(line, -1), number.FindAllString(madeLines[i], -1)
		alike := len(a) == len(b) && number.ReplaceAllString(line, "#") == number.ReplaceAllString(madeLines[i], "#")
		for k := 0; alike && k < len(a); k++ {
			x, errX := strconv.ParseFloat(a[k], 64)
			y, errY := strconv.ParseFloat(b[k], 64)
			_, decimals, _ := strings.Cut(a[k], ".")
			_, now, _ := strings.Cut(b[k], ".")
			alike = errX == nil && errY == nil && math.Abs(x-y) <= 1.01*math.Pow10(-len(decimals)) && len(now) == len(decimals) && (decimals != "" || x == y)
		}
		if !alike {
			return fmt.Sprintf("line %d\n  was %s\n  now %s", i+1, shortened(line), shortened(madeLines[i]))
		}
	}
	return ""
}

func shortened(line string) string {
	if len(line) > 400 {
		return line[:400] + "…"
	}
	return line
}

func TestFirstDifference(t *testing.T) {
	for _, c := range []struct {
		have, made string
		alike      bool
	}{
		{"0.123 N and 4", "0.124 N and 4", true},
		{"0.123 N and 4", "0.125 N and 4", false},
		{"0.123 N and 4", "0.123 N and 5", false},
		{"force 1.0", "couple 1.0", false},
		{"a\nb", "a", false},
		{"1.50", "1.5", false},
	} {
		if got := firstDifference(c.have, c.made); (got == "") != c.alike {
			t.Errorf("%q and %q: %q", c.have, c.made, got)
		}
	}
}

func (p *page) line(text string) { p.text.WriteString(strings.TrimSpace(text) + "\n\n") }

// table writes a table; cells hold no line breaks.
func (p *page) table(head []string, rows [][]string) {
	write := func(cells []string) {
		if len(cells) != len(head) {
			p.t.Fatalf("%d cells under %d heads: %v", len(cells), len(head), cells)
		}
		p.text.WriteString("| " + strings.Join(cells, " | ") + " |\n")
	}
	write(head)
	p.text.WriteString(strings.Repeat("|---", len(head)) + "|\n")
	for _, r := range rows {
		write(r)
	}
	p.text.WriteString("\n")
}

func (p *page) picture(name, alt string, made []byte) {
	p.pictures[name] = made
	p.line(fmt.Sprintf("![%s](%s)", alt, name))
}

// compared is a figure of others beside ours.
type compared struct {
	what         string
	theirs, ours float64
	unit         string
	digits       int     // after the point, as theirs are printed
	within       float64 // how far ours may lie from theirs, as a share of theirs, or of 1 where that is 0
	source, why  string
	test         string // "folder TestName" that holds it
}

// comparedTable writes figures side by side, and fails where one is farther off than it may be.
func (p *page) comparedTable(rows []compared) {
	var cells [][]string
	for _, r := range rows {
		off := r.ours - r.theirs
		if r.theirs != 0 {
			off /= math.Abs(r.theirs)
		}
		if !(math.Abs(off) <= r.within) {
			p.t.Errorf("%s: %.*f, by others %.*f %s: %.3g off, allowed %.3g", r.what, r.digits, r.ours, r.digits, r.theirs, r.unit, off, r.within)
		}
		figure := func(v float64) string {
			return strings.TrimSpace(minus(strconv.FormatFloat(v, 'f', r.digits, 64)) + " " + r.unit)
		}
		cells = append(cells, []string{r.what, figure(r.theirs), figure(r.ours), differenceOf(off, r.theirs != 0), r.source, r.why, p.test(r.test)})
	}
	p.table([]string{"what", "others", "springwright", "difference", "source", "why they differ", "held by"}, cells)
}

// minus writes the sign as in print; nothing has none.
func minus(s string) string {
	if rest, negative := strings.CutPrefix(s, "-"); negative {
		if strings.Trim(rest, "0.") == "" {
			return rest
		}
		return "−" + rest
	}
	return s
}

func differenceOf(off float64, share bool) string {
	if !share {
		return "–"
	}
	percent := 100 * off
	switch size := math.Abs(percent); {
	case size < 0.001:
		return "below 0.001 %"
	case size < 0.1:
		return minus(fmt.Sprintf("%+.3f %%", percent))
	case size < 10:
		return minus(fmt.Sprintf("%+.1f %%", percent))
	}
	return minus(fmt.Sprintf("%+.0f %%", percent))
}

// test is the name of a test, which must be there.
func (p *page) test(where string) string {
	dir, name, ok := strings.Cut(where, " ")
	if !ok {
		p.t.Fatalf("no test in %q", where)
	}
	files, err := filepath.Glob(filepath.Join(root, dir, "*_test.go"))
	if err != nil {
		p.t.Fatal(err)
	}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			p.t.Fatal(err)
		}
		if bytes.Contains(text, []byte("func "+name+"(t *testing.T)")) {
			return fmt.Sprintf("`%s` in `%s`", name, dir)
		}
	}
	p.t.Errorf("no test %s in %s", name, dir)
	return ""
}

// readFile reads a file of the module.
func (p *page) readFile(name string) []byte {
	text, err := os.ReadFile(filepath.Join(root, name))
	if err != nil {
		p.t.Fatal(err)
	}
	return text
}
