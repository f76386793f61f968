package export

import (
	"errors"
	"fmt"
	"slices"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/bend"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// GalleryItem is a spring of a gallery.
type GalleryItem struct {
	Name, Kind, For string
	Teeth           tooth.Pair
	Spring          spring.Spring
}

// Gallery returns drawings of springs beside each other, all to one scale, as one SVG picture: passive, seen from the
// cheek, top of the picture up in the mouth, with the slots as they stand before the travel.
func Gallery(items []GalleryItem) ([]byte, error) {
	const (
		columns           = 4
		wideMM, highMM    = 62.0, 52.0
		textMM, paddingMM = 17.0, 3.0
		largest           = 2.4 // times true size
	)
	if len(items) == 0 {
		return nil, errors.New("a gallery without springs")
	}
	scale := largest
	drawings := make([][][]plane.Point, len(items))
	boxes := make([]plane.Box, len(items))
	for i, item := range items {
		drawings[i] = galleryLines(item)
		boxes[i] = plane.Empty()
		for _, q := range slices.Concat(drawings[i]...) {
			boxes[i] = boxes[i].Cover(q)
		}
		scale = min(scale, (wideMM-2*paddingMM)/boxes[i].Width(), (highMM-textMM-2*paddingMM)/boxes[i].Height())
	}
	rows := (len(items) + columns - 1) / columns
	doc, err := sheet.NewDocument(2*sheet.MarginMM+columns*wideMM, 2*sheet.MarginMM+float64(rows)*highMM)
	if err != nil {
		return nil, err
	}
	doc.Lang = "en-GB"
	page := doc.AddPage("Presets")
	for i, item := range items {
		corner := plane.Point{X: sheet.MarginMM + float64(i%columns)*wideMM, Y: doc.HeightMM - sheet.MarginMM - float64(i/columns)*highMM}
		cell := plane.Box{Min: corner.Sub(plane.Point{Y: highMM}), Max: corner.Add(plane.Point{X: wideMM})}
		page.Rectangle(sheet.Construction, cell)
		name := sheet.Style{SizePt: sheet.HeadPt, Bold: true}
		small := sheet.Style{SizePt: sheet.SmallPt}
		at := corner.Add(plane.Point{X: paddingMM, Y: -paddingMM - name.CapMM()})
		page.Text(at, item.Name, name)
		page.Text(at.Sub(plane.Point{Y: 3.6}), fmt.Sprintf("%s, tooth %d held at %d", item.Kind, item.Teeth.Active, item.Teeth.Anchor), small)
		page.Paragraph(at.Sub(plane.Point{Y: 5.2}), wideMM-2*paddingMM, item.For, small)
		middle := boxes[i].Centre()
		centre := plane.Point{X: corner.X + wideMM/2, Y: corner.Y - textMM - (highMM-textMM)/2}
		for k, line := range drawings[i] {
			points := make([]plane.Point, len(line))
			for j, q := range line {
				points[j] = centre.Add(q.Sub(middle).Times(scale))
			}
			pen := sheet.Mark
			if k == 0 {
				pen = sheet.Curve
			}
			page.Polyline(pen, points)
		}
	}
	files, err := doc.SVG("Presets of springwright", fmt.Sprintf("%d springs, passive, seen from the cheek, %.1f times their size", len(items), scale))
	if err != nil {
		return nil, err
	}
	return files[0], nil
}

// galleryLines are the wire of a spring from the cheek, mm, and behind it the outlines of its slots or of the point
// that it is hooked to.
func galleryLines(item GalleryItem) [][]plane.Point {
	view := bend.ViewOf(item.Teeth)
	on := func(p beam.Pose) plane.Point {
		right, up := view.Page(p.At)
		return plane.Point{X: right, Y: up}
	}
	s := item.Spring
	pose := beam.Origin()
	wire := []plane.Point{on(pose.Along(-s.AnchorSlotLengthMM)), on(pose)}
	for _, piece := range s.Path.Pieces() {
		const partMM = 0.1 // far below what the picture shows
		parts := int(piece.LengthMM/partMM) + 1
		for k := range parts {
			wire = append(wire, on(pose.Advance(piece.Curvature, piece.LengthMM*float64(k+1)/float64(parts))))
		}
		pose = pose.Advance(piece.Curvature, piece.LengthMM)
	}
	slot := func(fromMM, toMM float64, level plane.Point) []plane.Point {
		const highMM = 1.4
		box := plane.Box{Min: plane.Point{X: min(fromMM, toMM), Y: level.Y - highMM/2}, Max: plane.Point{X: max(fromMM, toMM), Y: level.Y + highMM/2}}
		return []plane.Point{box.Min, {X: box.Max.X, Y: box.Min.Y}, box.Max, {X: box.Min.X, Y: box.Max.Y}, box.Min}
	}
	lines := [][]plane.Point{wire, slot(wire[0].X, wire[1].X, wire[0])}
	seat := s.Start.AtMM
	right, up := view.Page(seat)
	lengthMM := s.ActiveSlotLengthMM * view.XSign
	if s.Heading == spring.Back {
		lengthMM = -lengthMM
	}
	if s.ActiveHold.Hook {
		lengthMM, right = 1.0, right-0.5
	}
	return append(lines, slot(right, right+lengthMM, plane.Point{X: right, Y: up}))
}
