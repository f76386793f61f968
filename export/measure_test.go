package export

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	_ "image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"springwright/design/spring"
	"springwright/export/pdf"
	"springwright/export/plane"
	"springwright/export/sheet"
)

const fineDPI = 600

// tool skips a test whose program is missing; where CI is set it must be there.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is missing: true scale was NOT measured", name)
		}
		t.Skipf("%s is missing: true scale was NOT measured", name)
	}
	return path
}

// raster is a page as a printer would put it on paper.
type raster struct {
	image  image.Image
	dpi    float64
	height float64 // of the page, mm
}

// ink is how dark the paper is at a place, 0 to 1, to the nearest dot.
func (r raster) ink(p plane.Point) float64 {
	x := int(math.Floor(p.X * r.dpi / 25.4))
	y := int(math.Floor((r.height - p.Y) * r.dpi / 25.4))
	grey, _, _, alpha := r.image.At(x, y).RGBA()
	return float64(alpha-grey) / 0xFFFF
}

// middle is the centroid of ink across a line: from at, along direction, within reach.
func (r raster) middle(at, direction plane.Point, reachMM float64) (plane.Point, error) {
	// A third of a dot, and many lines side by side, even out the grid of dots.
	step := 25.4 / r.dpi / 3
	direction = direction.Unit()
	var sum, moment float64
	for side := -14.0; side <= 14; side++ {
		for s := -reachMM; s <= reachMM; s += step {
			ink := r.ink(at.Add(direction.Times(s)).Add(direction.Left().Times(side * step)))
			sum += ink
			moment += s * ink
		}
	}
	if sum == 0 {
		return plane.Point{}, fmt.Errorf("no ink within %.2f mm of (%.2f, %.2f)", reachMM, at.X, at.Y)
	}
	return at.Add(direction.Times(moment / sum)), nil
}

// rasterise renders all pages through an outside program.
func rasterise(t *testing.T, doc *sheet.Document, program string, dpi int) []raster {
	t.Helper()
	dir := t.TempDir()
	names := make([]string, len(doc.Pages)) // of the pictures, without their endings
	for i := range names {
		names[i] = filepath.Join(dir, fmt.Sprintf("page-%d", i+1))
	}
	slack := 1.01 // a page is a whole number of dots; more than one off would be another size
	switch program {
	case "pdftoppm", "gs":
		file, err := doc.PDF(pdf.Info{Title: "test"})
		if err != nil {
			t.Fatal(err)
		}
		rasterisePDF(t, write(t, dir, "pages.pdf", file), program, dpi, names)
	case "rsvg-convert":
		for i, file := range svgFiles(t, doc, dir) {
			execute(t, tool(t, program), "-d", fmt.Sprint(dpi), "-p", fmt.Sprint(dpi), "--background-color=white", "-o", names[i]+".png", file)
		}
	case "chromium":
		slack = 2.5 // it makes pages of whole hundredths of an inch
		files := svgFiles(t, doc, dir)
		printFromBrowser(t, files[0], dpi, names[:1])
		if len(files) > 1 { // a start takes seconds: all others at once
			printFromBrowser(t, write(t, dir, "pages.html", browserPages(doc, files[1:])), dpi, names[1:])
		}
	}
	var pages []raster
	for _, name := range names {
		picture, err := readPicture(name)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := float64(picture.Bounds().Dx()), doc.WidthMM*float64(dpi)/25.4; math.Abs(got-want) > slack {
			t.Errorf("%s is %v dots wide, want %.1f", filepath.Base(name), got, want)
		}
		pages = append(pages, raster{picture, float64(dpi), doc.HeightMM})
	}
	return pages
}

// printFromBrowser prints a file of as many pages as there are names, and renders it.
func printFromBrowser(t *testing.T, file string, dpi int, names []string) {
	t.Helper()
	printed := names[0] + ".pdf"
	execute(t, tool(t, "chromium"), "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
		"--user-data-dir="+filepath.Join(filepath.Dir(file), "profile"), "--print-to-pdf="+printed, file)
	rasterisePDF(t, printed, "pdftoppm", dpi, names)
}

// browserPages is a document that shows pictures at their own size, each on a page.
func browserPages(doc *sheet.Document, files []string) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "<!DOCTYPE html><style>@page{size:%.9gmm %.9gmm;margin:0} body{margin:0} img{display:block;break-after:page}</style>", doc.WidthMM, doc.HeightMM)
	for _, file := range files {
		fmt.Fprintf(&b, "<img src=%q>", filepath.Base(file))
	}
	return b.Bytes()
}

// rasterisePDF renders a file that must have as many pages as there are names.
func rasterisePDF(t *testing.T, file, program string, dpi int, names []string) {
	t.Helper()
	path := tool(t, program)
	for i, name := range names {
		page := fmt.Sprint(i + 1)
		if program == "gs" {
			execute(t, path, "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-sDEVICE=pnggray", "-dTextAlphaBits=4", "-dGraphicsAlphaBits=4",
				"-dFirstPage="+page, "-dLastPage="+page, fmt.Sprintf("-r%d", dpi), "-sOutputFile="+name+".png", file)
		} else {
			execute(t, path, "-r", fmt.Sprint(dpi), "-gray", "-f", page, "-l", page, "-singlefile", file, name)
		}
	}
}

func svgFiles(t *testing.T, doc *sheet.Document, dir string) []string {
	t.Helper()
	files, err := doc.SVG("test", "test")
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for i, file := range files {
		names = append(names, write(t, dir, fmt.Sprintf("page-%d.svg", i+1), file))
	}
	return names
}

func execute(t *testing.T, program string, args ...string) string {
	t.Helper()
	message, err := exec.Command(program, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", program, args, err, message)
	}
	return string(message)
}

// readPicture reads the grey map (PGM) or else the PNG of that name.
func readPicture(name string) (image.Image, error) {
	data, err := os.ReadFile(name + ".pgm")
	if err != nil {
		if data, err = os.ReadFile(name + ".png"); err != nil {
			return nil, err
		}
		picture, _, err := image.Decode(bytes.NewReader(data))
		return picture, err
	}
	var width, height int
	if _, err := fmt.Sscanf(string(data[:min(len(data), 40)]), "P5\n%d %d\n255\n", &width, &height); err != nil {
		return nil, err
	}
	return &image.Gray{Pix: data[len(data)-width*height:], Stride: width, Rect: image.Rect(0, 0, width, height)}, nil
}

func write(t *testing.T, dir, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// outline lays out a page with bars and the passive spring alone, and says where the
// spring's legs are expected: the same drawing as on the sheet, with nothing across it.
func outline(job Job) (*flow, [][2]plane.Point, error) {
	of, f, err := begin(job)
	if err != nil {
		return nil, nil, err
	}
	f.newPage("Template")
	s := of.scene()
	at := f.area.Centre().Sub(s.bounds.Centre())
	place := func(points []plane.Point) []plane.Point { return plane.Placed(points, at, 1) }
	f.page.Polyline(sheet.Outline, place(s.passive.edge()))
	f.page.Polyline(sheet.Centreline, place(s.passive.centre))
	if _, err := f.finished(); err != nil {
		return nil, nil, err
	}
	var legs [][2]plane.Point
	for i, step := range of.steps() {
		if step.Kind == spring.Straight {
			legs = append(legs, [2]plane.Point{at.Add(s.passive.centre[s.start[i]]), at.Add(s.passive.centre[s.start[i+1]])})
		}
	}
	return f, legs, nil
}

func TestTrueScale(t *testing.T) {
	for _, paper := range [...]Paper{A4, Letter} {
		for _, program := range [...]string{"pdftoppm", "rsvg-convert"} {
			t.Run(paper.String()+"/"+program, func(t *testing.T) {
				job := testJob()
				job.Paper = paper
				f, legs, err := outline(job)
				if err != nil {
					t.Fatal(err)
				}
				r := rasterise(t, f.doc, program, fineDPI)[0]
				measureBars(t, f.doc, r, plane.Point{X: 1, Y: 1})
				measureCorners(t, r, legs)
			})
		}
	}
}

// measureBars checks both 100 mm bars, tick to tick, beside the bar itself. They are drawn
// longer by scale.
func measureBars(t *testing.T, doc *sheet.Document, r raster, scale plane.Point) {
	t.Helper()
	inside := doc.Inside()
	level := plane.Point{X: inside.Min.X + barColumnMM, Y: inside.Min.Y + levelBarMM}
	upright := plane.Point{X: inside.Min.X + uprightBarMM, Y: inside.Min.Y + footMM}
	measureBar(t, r, "level bar", level, level.Add(plane.Point{X: barMM * scale.X}))
	measureBar(t, r, "upright bar", upright, upright.Add(plane.Point{Y: barMM * scale.Y}))
}

// measureBar checks a bar between the middles of its end ticks.
func measureBar(t *testing.T, r raster, name string, from, to plane.Point) {
	t.Helper()
	along := to.Sub(from).Unit()
	var ends [2]plane.Point
	for i, end := range [...]plane.Point{from, to} {
		found, err := r.middle(end.Add(along.Left().Times(-0.6)), along, 0.5)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		ends[i] = found
	}
	// 0.1 mm in 100 is a fifth of what the sheet asks the user to refuse.
	if got, want := ends[1].Sub(ends[0]).Norm(), to.Sub(from).Norm(); math.Abs(got-want) > 0.1 {
		t.Errorf("%s measures %.3f mm, want %.3f ± 0.1", name, got, want)
	} else {
		t.Logf("%s measures %.3f mm, want %.3f", name, got, want)
	}
}

// measureCorners finds each leg's line at two places, and compares the distances between
// the corners where neighbouring lines meet.
func measureCorners(t *testing.T, r raster, legs [][2]plane.Point) {
	t.Helper()
	measured := make([][2]plane.Point, len(legs))
	for i, leg := range legs {
		step := leg[1].Sub(leg[0])
		for k, share := range [...]float64{0.13, 0.87} {
			p, err := r.middle(leg[0].Add(step.Times(share)), step.Left(), 0.45)
			if err != nil {
				t.Fatalf("leg %d: %v", i+1, err)
			}
			measured[i][k] = p
		}
	}
	corner := func(legs [][2]plane.Point, i int) plane.Point {
		a, b := legs[i], legs[i+1]
		u, v := a[1].Sub(a[0]), b[1].Sub(b[0])
		w := b[0].Sub(a[0])
		return a[0].Add(u.Times((w.X*v.Y - w.Y*v.X) / (u.X*v.Y - u.Y*v.X)))
	}
	// 0.05 mm, a dot and a bit. Where two legs are nearly in line their corner is ill-defined
	// along them: there a quarter of a dot across, which programs move thin level lines by
	// to make them crisp, is worth more.
	tolerance := func(i int) float64 {
		u, v := legs[i][1].Sub(legs[i][0]).Unit(), legs[i+1][1].Sub(legs[i+1][0]).Unit()
		if sin := math.Abs(u.X*v.Y - u.Y*v.X); sin < 0.5 {
			return 0.05 + 25.4/fineDPI/4/sin
		}
		return 0.05
	}
	for i := range len(legs) - 1 {
		for k := range i {
			got := corner(measured, i).Sub(corner(measured, k)).Norm()
			want := corner(legs, i).Sub(corner(legs, k)).Norm()
			if math.Abs(got-want) > tolerance(i)+tolerance(k)-0.05 {
				t.Errorf("corners %d and %d are %.3f mm apart, want %.3f", k+1, i+1, got, want)
			}
		}
	}
}

// The expected legs come from the drawing's own poses; this holds them against the path.
func TestOutlineIsTheSpring(t *testing.T) {
	job := testJob()
	_, legs, err := outline(job)
	if err != nil {
		t.Fatal(err)
	}
	i := 0
	for _, step := range job.Spring.Path.Steps() {
		if step.Kind != spring.Straight {
			continue
		}
		if got := legs[i][1].Sub(legs[i][0]).Norm(); math.Abs(got-step.LengthMM) > 1e-9 {
			t.Errorf("leg %d is %v mm long, want %v", i+1, got, step.LengthMM)
		}
		i++
	}
	i = 0
	for _, step := range job.Spring.Path.Steps() {
		if step.Kind != spring.Bend {
			continue
		}
		u, v := legs[i][1].Sub(legs[i][0]), legs[i+1][1].Sub(legs[i+1][0])
		got := math.Atan2(u.X*v.Y-u.Y*v.X, u.X*v.X+u.Y*v.Y)
		// Lower left: x to the right and apical down, so a bend towards apical turns right.
		if math.Abs(got+step.AngleRad) > 1e-9 {
			t.Errorf("bend %d turns %v° on the page, want %v°", i+1, got/degree, -step.AngleRad/degree)
		}
		i++
	}
}

func TestFilesAreValid(t *testing.T) {
	program := tool(t, "qpdf")
	for _, paper := range [...]Paper{A4, Letter} {
		job := testJob()
		job.Paper = paper
		file, _, err := Sheets(job)
		if err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(program, "--check", write(t, t.TempDir(), "sheet.pdf", file)).CombinedOutput()
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			t.Errorf("%v: %s", paper, out)
		} else if err != nil {
			t.Fatal(err)
		}
	}
}
