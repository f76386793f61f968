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

var pageNames = [...]string{"template", "stages", "steps", "loads", "teeth", "twin", "laboratory", "check", "readings"}

// String is the name by which a page is asked for.
func (p Page) String() string {
	if p < 0 || int(p) >= len(pageNames) {
		return fmt.Sprintf("page %d", int(p))
	}
	return pageNames[p]
}

// PageNames lists all pages, in order.
func PageNames() []string { return slices.Clone(pageNames[:]) }

// ParsePages reads names such as "template,steps", in any order, in capitals or not.
func ParsePages(text string) ([]Page, error) {
	var pages []Page
	for name := range strings.SplitSeq(text, ",") {
		name = strings.TrimSpace(name)
		i := slices.IndexFunc(pageNames[:], func(known string) bool { return strings.EqualFold(known, name) })
		if i < 0 {
			return nil, fmt.Errorf("page %q is unknown (allowed: %s)", name, strings.Join(pageNames[:], ", "))
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
		pages = []Page{TemplatePage, StepsPage, LoadsPage, LaboratoryPage}
		if j.Teeth != nil {
			pages = append(pages, TeethPage)
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

// page is a kind of page about the spring.
func (s *subject) page(p Page) page {
	return [...]page{
		TemplatePage:   templatePage{subject: s},
		StagesPage:     stagesPage{bendTexts{s}},
		StepsPage:      stepsPage{bendTexts{s}},
		LoadsPage:      loadsPage{subject: s},
		TeethPage:      teethPage{s},
		TwinPage:       twinPage{s},
		LaboratoryPage: laboratoryPage{s},
		CheckPage:      checkPage{s},
		ReadingsPage:   readingsPage{s},
	}[p]
}

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
		if err := s.page(p).draw(f); err != nil {
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
