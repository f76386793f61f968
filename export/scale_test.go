package export

import (
	"errors"
	"math"
	"os/exec"
	"strings"
	"testing"

	"springwright/design/spring"
	"springwright/export/pdf"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// documents are all kinds of sheets there are, corrected for a printer or not.
func documents(t *testing.T, paper Paper, printer Printer) map[string]*sheet.Document {
	t.Helper()
	frame := Frame{Version: "0.1.0", Date: "2026-11-24", Paper: paper, Printer: printer}
	job := spatialJob()
	job.Paper, job.Printer, job.Twin = paper, printer, true
	one, err := compose(job)
	if err != nil {
		t.Fatal(err)
	}
	several, _, err := springSheet(frame).compose()
	if err != nil {
		t.Fatal(err)
	}
	measuring, err := frame.measuring()
	if err != nil {
		t.Fatal(err)
	}
	return map[string]*sheet.Document{"design": one, "springs": several, "measuring": measuring}
}

// springSheet is a sheet of two springs of different teeth, with their twins.
func springSheet(frame Frame) SpringSheet {
	s := SpringSheet{Frame: frame, Twins: true}
	for _, job := range [...]Job{testJob(), spatialJob()} {
		s.Springs = append(s.Springs, SheetSpring{
			Code: job.Case.Code, Teeth: job.Case.Teeth, Spring: job.Spring,
			AnchorSlot: job.Case.AnchorSlot, ActiveSlot: job.Case.ActiveSlot, Evaluation: job.Evaluation,
		})
	}
	return s
}

func TestEveryPageIsTrueToScale(t *testing.T) {
	// Coarser than one page alone is measured with; a dot is 0.085 mm, and middles of lines
	// are found to a fraction of one.
	const dpi = 300
	papers := [...]Paper{A4, Letter}
	for _, program := range [...]string{"pdftoppm", "gs", "rsvg-convert", "chromium"} {
		for _, paper := range papers {
			for _, printer := range [...]Printer{{}, {LevelMM: 98.4, UprightMM: 101.2}} {
				if printer.corrected() && program != "pdftoppm" {
					continue // what is written is measured once, by one program
				}
				name := program + "/" + paper.String()
				if printer.corrected() {
					name += "/corrected"
				}
				t.Run(name, func(t *testing.T) {
					t.Parallel()
					if testing.Short() {
						t.Skip("long: every page through an outside program")
					}
					for kind, doc := range documents(t, paper, printer) {
						for i, r := range rasterise(t, doc, program, dpi) {
							t.Logf("%s, page %d, %s", kind, i+1, doc.Pages[i].Title)
							measureBars(t, doc, r, printer.scale())
						}
					}
				})
			}
		}
	}
}

// A bank card must fit the outline: edges at the middles of its sides.
func TestBankCardIsTrueToScale(t *testing.T) {
	for _, program := range [...]string{"pdftoppm", "gs", "rsvg-convert"} {
		t.Run(program, func(t *testing.T) {
			f, err := testJob().flow()
			if err != nil {
				t.Fatal(err)
			}
			f.newPage("Card")
			at := plane.Point{X: f.area.Min.X + 20, Y: f.area.Max.Y - 20}
			drawCard(f.page, f.scale, at)
			r := rasterise(t, f.doc, program, fineDPI)[0]
			across := func(x, y float64, along plane.Point) plane.Point {
				p, err := r.middle(at.Add(plane.Point{X: x, Y: -y}), along, 0.6)
				if err != nil {
					t.Fatal(err)
				}
				return p
			}
			right, up := plane.Point{X: 1}, plane.Point{Y: 1}
			// ISO/IEC 7810, ID-1; the standard itself lets a card differ by some 0.1 mm.
			if got := across(85.60, 27, right).X - across(0, 27, right).X; math.Abs(got-85.60) > 0.05 {
				t.Errorf("the card is %.3f mm wide, want 85.60 ± 0.05", got)
			}
			if got := across(43, 0, up).Y - across(43, 53.98, up).Y; math.Abs(got-53.98) > 0.05 {
				t.Errorf("the card is %.3f mm high, want 53.98 ± 0.05", got)
			}
			// On the diagonal of a corner the arc lies 3.18·(√2 − 1) from where the edges meet.
			corner := 3.18 * (1 - math.Sqrt2/2)
			got := across(corner, corner, plane.Point{X: 1, Y: -1}).Sub(at).Norm()
			if want := 3.18 * (math.Sqrt2 - 1); math.Abs(got-want) > 0.05 {
				t.Errorf("the corner's arc is %.3f mm off the corner, want %.3f ± 0.05", got, want)
			}
		})
	}
}

// Every page of a corrected sheet says what it is corrected for; others say nothing.
func TestCorrectionIsPrinted(t *testing.T) {
	program := tool(t, "pdftotext")
	for _, printer := range [...]Printer{{}, {LevelMM: 99.2, UprightMM: 99.6}} {
		for kind, doc := range documents(t, Letter, printer) {
			file, err := doc.PDF(pdf.Info{Title: "test"})
			if err != nil {
				t.Fatal(err)
			}
			text, err := exec.Command(program, write(t, t.TempDir(), "pages.pdf", file), "-").Output()
			if err != nil {
				t.Fatal(err)
			}
			want := 0
			if printer.corrected() {
				want = len(doc.Pages)
			}
			if got := strings.Count(string(text), "Corrected for a printer that prints 100 mm as 99.2 mm × 99.6 mm"); got != want {
				t.Errorf("%s for %v: %d of %d pages say what they are corrected for, want %d", kind, printer, got, len(doc.Pages), want)
			}
		}
	}
}

func TestInkInTheMarginIsNamed(t *testing.T) {
	f, err := testJob().flow()
	if err != nil {
		t.Fatal(err)
	}
	f.newPage("Card")
	f.page.Text(plane.Point{X: 190, Y: 100}, "over the edge", sheet.Style{SizePt: sheet.BodyPt})
	if _, err := f.finished(); !errors.Is(err, ErrJob) || !strings.Contains(err.Error(), `page 1, Card: the text "over the edge"`) {
		t.Errorf("error %v, want ErrJob that names page and text", err)
	}
}

// A printer that shrinks a corrected sheet by what was measured prints the true spring.
func TestCorrectedSpringPrintsTrue(t *testing.T) {
	job := testJob()
	job.Printer = Printer{LevelMM: 99.2, UprightMM: 97.5}
	_, legs, err := outline(job)
	if err != nil {
		t.Fatal(err)
	}
	i := 0
	for _, step := range job.Spring.Path.Steps() {
		if step.Kind != spring.Straight {
			continue
		}
		drawn := legs[i][1].Sub(legs[i][0])
		printed := plane.Point{X: drawn.X * 0.992, Y: drawn.Y * 0.975}
		if got := printed.Norm(); math.Abs(got-step.LengthMM) > 1e-9 {
			t.Errorf("leg %d prints %v mm long, want %v", i+1, got, step.LengthMM)
		}
		i++
	}
}
