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
)

var pageNames = [...]string{"template", "stages", "steps", "loads", "teeth", "twin", "laboratory"}

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

// layOut lays out one kind of page.
func (f *flow) layOut(p Page) error {
	switch p {
	case TemplatePage:
		f.newPage("Template")
		return f.template(0)
	case StagesPage:
		f.newPage("Stages")
		return f.stages()
	case StepsPage:
		f.newPage("Bend steps")
		f.bendSteps()
	case LoadsPage:
		f.loadsPage()
	case TeethPage:
		f.newPage("Teeth")
		f.teeth(*f.job.Teeth)
	case TwinPage:
		return f.twinTemplate()
	case LaboratoryPage:
		f.laboratory()
	}
	return nil
}

// layOutAll lays out pages and, on the first of them that has room, the cautions. The
// warnings stand as early as they can, on the page of loads at the latest.
func (f *flow) layOutAll(pages []Page) error {
	cautioned := false
	for _, p := range pages {
		if err := f.layOut(p); err != nil {
			return err
		}
		if !f.tried && p != LaboratoryPage { // the first page, whatever it is
			f.need(f.trialHeightMM(sheet.Style{SizePt: sheet.BodyPt}))
			f.trial(sheet.Style{SizePt: sheet.BodyPt})
		}
		if p == TemplatePage || p == StepsPage {
			f.warnHere()
		}
		if roomy := p != TwinPage && p != LaboratoryPage; roomy && !cautioned && f.leftMM() >= f.cautionsHeightMM() {
			f.cautions()
			cautioned = true
		}
	}
	if !cautioned {
		f.cautions()
	}
	return nil
}
