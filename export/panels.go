package export

import (
	"math"
	"slices"

	"springwright/export/plane"
)

const headingMM = 6.0 // a heading and what is kept below it

// panels says where the views at true size and enlarged go, against the top left corner of
// them all; one box for each view.
type panels struct {
	template, reading []plane.Box
	enlarged          float64 // 0: there is no room for reading views
	heightMM          float64 // of all
}

// compassBeside tells whether the arrows have room beside a spring at true size.
func compassBeside(s scene, widthMM float64) bool {
	return s.bounds.Width()+2*templateRoom+2*compassSideMM <= widthMM
}

// templateSize is what a view takes at true size in a panel of that width at most, with
// more room for its numbers by a factor.
func templateSize(s scene, widthMM, roomy float64, first bool) (width, height float64) {
	width = math.Max(s.bounds.Width()+2*templateRoom*roomy, s.barMM) + 2*panelInsetMM
	height = s.bounds.Height() + 2*templateRoom*roomy
	if compassBeside(s, widthMM) {
		height = math.Max(height, compassMM)
	} else {
		height += compassMM
	}
	height += captionMM + 0.8
	if first {
		height += nearBarRoomMM
	}
	return width, height
}

func readingSize(s scene, scale, roomy float64) (width, height float64) {
	return scale*s.bounds.Width() + 2*sideRoomMM*roomy, scale*s.bounds.Height() + 2*readingRoomMM*roomy + captionMM
}

// panelsFor returns the ways to lay out views in the room there is, the best first: the
// largest scale for reading, with the reading views beside the templates or else below.
func panelsFor(views []scene, widthMM, roomMM float64) []panels {
	var all []panels
	for _, roomy := range [...]float64{1, 1.5, 2.2} {
		for _, scale := range [...]float64{6, 5, 4, 3, 2.5, 2, 1.5, 0} {
			for _, lay := range [...]func([]scene, float64, float64, float64) (panels, bool){beside, below} {
				if p, fits := lay(views, widthMM, scale, roomy); fits && p.heightMM <= roomMM {
					all = append(all, p)
					break
				}
			}
		}
	}
	// A view for reading is worth more than spare room round the numbers.
	slices.SortStableFunc(all, func(a, b panels) int {
		switch {
		case a.enlarged > 0 && b.enlarged == 0:
			return -1
		case a.enlarged == 0 && b.enlarged > 0:
			return 1
		}
		return 0
	})
	return all
}

// beside puts each reading view beside its template.
func beside(views []scene, widthMM, scale, roomy float64) (p panels, fits bool) {
	if scale == 0 {
		return panels{}, false
	}
	const narrow = 0 // the templates' panels leave the compass no room beside the spring
	left := 0.0
	for i, v := range views {
		w, _ := templateSize(v, narrow, roomy, i == 0)
		left = math.Max(left, w)
	}
	right := widthMM - left - panelApartMM
	y := 0.0
	for i, v := range views {
		_, h := templateSize(v, narrow, roomy, i == 0)
		w, rh := readingSize(v, scale, roomy)
		if w > right {
			return panels{}, false
		}
		h = math.Max(h, rh)
		p.template = append(p.template, boxUnder(0, y, left, h))
		p.reading = append(p.reading, boxUnder(left+panelApartMM, y, right, h))
		y -= h + panelApartMM
	}
	p.enlarged, p.heightMM = scale, -y-panelApartMM
	return p, true
}

// below puts the templates under each other and the reading views under those.
func below(views []scene, widthMM, scale, roomy float64) (p panels, fits bool) {
	y := 0.0
	for i, v := range views {
		w, h := templateSize(v, widthMM, roomy, i == 0)
		if w > widthMM {
			return panels{}, false
		}
		p.template = append(p.template, boxUnder(0, y, widthMM, h))
		y -= h + panelApartMM
	}
	for _, v := range views {
		if scale == 0 {
			break
		}
		w, h := readingSize(v, scale, roomy)
		if w > widthMM {
			return panels{}, false
		}
		p.reading = append(p.reading, boxUnder(0, y, widthMM, h))
		y -= h + panelApartMM
	}
	p.enlarged, p.heightMM = scale, -y-panelApartMM
	return p, true
}

// boxUnder is a box by its top left corner.
func boxUnder(x, y, width, height float64) plane.Box {
	return plane.Box{Min: plane.Point{X: x, Y: y - height}, Max: plane.Point{X: x + width, Y: y}}
}
