package export

import (
	"fmt"
	"slices"
	"strings"

	"springwright/export/sheet"
)

// Page is a kind of page of a design's sheets.
type Page int

// The kinds of pages, in the order in which they are laid out.
const (
	TemplatePage   Page = iota // side view, and view from the biting side, at true size
	StagesPage                 // the wire after each bend, at true size
	StepsPage                  // bend table, straight wire at true size, free-end check
	LoadsPage                  // loads on both teeth over the travel
	TeethPage                  // what the spring does at the centres of resistance
	TwinPage                   // template of the mirrored spring
	LaboratoryPage             // order and inspection slip
	CheckPage                  // card to take a picture of the bent spring on
	ReadingsPage               // blank form for what is measured of the bent spring
)

// pageKind is what there is to know of a kind of page.
type pageKind struct {
	name  string // by which it is asked for
	usual bool   // it is laid out where no pages are asked for
	of    func(*subject) page
}

// pageKinds are in the order in which the pages are laid out.
var pageKinds = [...]pageKind{
	TemplatePage:   {"template", true, func(s *subject) page { return templatePage{subject: s} }},
	StagesPage:     {"stages", false, func(s *subject) page { return stagesPage{bendTexts{s}} }},
	StepsPage:      {"steps", true, func(s *subject) page { return stepsPage{bendTexts{s}} }},
	LoadsPage:      {"loads", true, func(s *subject) page { return loadsPage{subject: s} }},
	TeethPage:      {"teeth", true, func(s *subject) page { return teethPage{s} }},
	TwinPage:       {"twin", false, func(s *subject) page { return twinPage{s} }},
	LaboratoryPage: {"laboratory", true, func(s *subject) page { return laboratoryPage{s} }},
	CheckPage:      {"check", false, func(s *subject) page { return checkPage{s} }},
	ReadingsPage:   {"readings", false, func(s *subject) page { return readingsPage{s} }},
}

// String is the name by which a page is asked for.
func (p Page) String() string {
	if p < 0 || int(p) >= len(pageKinds) {
		return fmt.Sprintf("page %d", int(p))
	}
	return pageKinds[p].name
}

// PageNames lists all pages, in order.
func PageNames() []string { return pageNames(func(pageKind) bool { return true }) }

// SpecialPageNames lists the pages that are laid out only where they are asked for.
func SpecialPageNames() []string { return pageNames(func(k pageKind) bool { return !k.usual }) }

func pageNames(which func(pageKind) bool) (names []string) {
	for _, k := range pageKinds {
		if which(k) {
			names = append(names, k.name)
		}
	}
	return names
}

// ParsePages reads names such as "template,steps", in any order, in capitals or not.
func ParsePages(text string) ([]Page, error) {
	var pages []Page
	for name := range strings.SplitSeq(text, ",") {
		name = strings.TrimSpace(name)
		i := slices.IndexFunc(pageKinds[:], func(k pageKind) bool { return strings.EqualFold(k.name, name) })
		if i < 0 {
			return nil, fmt.Errorf("page %q is unknown (allowed: %s)", name, strings.Join(PageNames(), ", "))
		}
		pages = append(pages, Page(i))
	}
	return pages, nil
}

// pages are the pages of a job, in order: those asked for, or else the usual ones, and
// with them those that have a switch of their own.
func (j Job) pages() []Page {
	pages := slices.Clone(j.Pages)
	if len(pages) == 0 {
		for p := range pageKinds {
			if pageKinds[p].usual && (Page(p) != TeethPage || j.Teeth != nil) {
				pages = append(pages, Page(p))
			}
		}
	}
	if j.Stages {
		pages = append(pages, StagesPage)
	}
	if j.Twin {
		pages = append(pages, TwinPage)
	}
	if len(pages) > 1 && !j.bent() {
		pages = slices.DeleteFunc(pages, func(p Page) bool { return p == StagesPage }) // there would be nothing on it
	}
	slices.Sort(pages)
	return slices.Compact(pages)
}

// bent tells whether the spring has any bends.
func (j Job) bent() bool {
	return j.Spring.Path.Bends() > 0
}

// page is a page that lays itself out, and goes on on the next one where it does not fit.
type page interface{ draw(f *flow) error }

// compose lays out all pages of a job.
func compose(job Job) (*sheet.Document, error) {
	s, f, err := begin(job)
	if err != nil {
		return nil, err
	}
	if err := s.layOut(f, job.pages()); err != nil {
		return nil, err
	}
	return f.finished()
}

// firstNotes lays out what the first page says, whatever page it is; nothing where it is said.
func (s *subject) firstNotes() func(*flow) {
	body, trial, anchor := sheet.Style{SizePt: sheet.BodyPt}, trialNote{s}, anchorNote{s}
	tried, anchored := s.told.trial, s.told.anchor
	return func(f *flow) {
		if !tried {
			f.need(trial.heightMM(f, body))
			trial.draw(f, body)
		}
		if !anchored {
			f.need(anchor.heightMM(f))
			anchor.draw(f)
		}
	}
}

// nothing is no block.
func nothing(*flow) {}

// layOut lays out pages and, on the first of them that has room, the cautions. The warnings
// stand as early as they can, on the page of loads at the latest.
func (s *subject) layOut(f *flow, pages []Page) error {
	cautioned := false
	for _, p := range pages {
		if err := pageKinds[p].of(s).draw(f); err != nil {
			return err
		}
		if p != LaboratoryPage {
			s.firstNotes()(f)
		}
		if p == TemplatePage || p == StepsPage {
			notices{s}.warnHere(f)
		}
		if roomy := p != TwinPage && p != LaboratoryPage; roomy && !cautioned && f.leftMM() >= cautionsHeightMM(f) {
			drawCautions(f)
			cautioned = true
		}
	}
	if !cautioned {
		drawCautions(f)
	}
	return nil
}
