// Package pdf finishes the PDF files that the drawing package writes: it adds what a
// true-scale sheet needs (no scaling when printing, language, title, bookmarks) and takes
// out what changes from run to run (dates of writing, in the file and inside its fonts).
//
// It knows the plain layout which that writer uses: a classic cross-reference table, and
// catalogue (1), information (2) and page tree (3) written last. Any other layout is an
// error, never a guess.
package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"time"
)

// Info is what the finished file says about itself.
type Info struct {
	Title    string
	Subject  string
	Producer string   // program and version
	Lang     string   // language tag such as "en-GB"
	Date     string   // "2026-11-24"; empty: the file carries no date
	Pages    []string // a bookmark for each page; empty: no bookmarks
	// Structures tell, page by page, what its drawings are to somebody who has the page read
	// aloud; empty: the file is not tagged.
	Structures []Structure
}

// ErrLayout says that a file is not laid out as the drawing package lays it out.
var ErrLayout = errors.New("unexpected layout of the PDF file")

const (
	catalogueObject = 1
	infoObject      = 2
	pageTreeObject  = 3
)

// Finish rewrites raw, a file as the drawing package writes it. Same raw but for dates,
// same result: the file's ID is taken from its contents.
func Finish(raw []byte, info Info) ([]byte, error) {
	if info.Date != "" {
		if _, err := time.Parse(time.DateOnly, info.Date); err != nil {
			return nil, fmt.Errorf("date %q is not a date such as 2026-11-24", info.Date)
		}
	}
	objects, header, err := split(raw)
	if err != nil {
		return nil, err
	}
	fonts, err := fontPrograms(objects)
	if err != nil {
		return nil, err
	}

	out := newFile(header, len(objects))
	pages, err := kids(objects[len(objects)-1].body)
	if err != nil {
		return nil, err
	}
	marks, err := tag(objects, pages, info.Structures)
	if err != nil {
		return nil, err
	}
	for _, o := range objects {
		body := o.body
		switch {
		case o.number == catalogueObject || o.number == infoObject:
			continue
		case slices.Contains(fonts, o.number):
			if body, err = freezeFont(body); err != nil {
				return nil, fmt.Errorf("object %d: %w", o.number, err)
			}
		}
		out.write(o.number, body)
	}
	catalogue := catalogue(info)
	refer := func(key string, parts [][]byte) { // adds parts, the first of them named in the catalogue
		if len(parts) > 0 {
			catalogue = fmt.Appendf(catalogue, "/%s %d 0 R", key, out.next())
		}
		for _, part := range parts {
			out.pack(part)
		}
	}
	outline, err := bookmarks(info.Pages, pages, out.next())
	if err != nil {
		return nil, err
	}
	refer("Outlines", outline)
	if len(info.Structures) > 0 {
		catalogue = append(catalogue, "/MarkInfo<</Marked true>>"...)
		refer("StructTreeRoot", structureTree(info.Structures, marks, pages, out.next()))
		catalogue = fmt.Appendf(catalogue, "/Metadata %d 0 R", out.next())
		out.write(out.next(), metadata(info))
	}
	out.write(infoObject, information(info))
	out.write(catalogueObject, append(catalogue, ">>"...))
	return out.close()
}

// catalogue is the catalogue but for what other objects add to it.
func catalogue(info Info) []byte {
	return fmt.Appendf(nil, "<</Type/Catalog/Pages %d 0 R/Lang%s"+
		"/ViewerPreferences<</PrintScaling/None/PickTrayByPDFSize true/DisplayDocTitle true/Duplex/Simplex>>",
		pageTreeObject, text(info.Lang))
}

func information(info Info) []byte {
	var b bytes.Buffer
	b.WriteString("<<")
	for _, entry := range [...]struct{ key, value string }{
		{"Title", info.Title}, {"Subject", info.Subject}, {"Producer", info.Producer},
	} {
		if entry.value != "" {
			fmt.Fprintf(&b, "/%s%s", entry.key, text(entry.value))
		}
	}
	if info.Date != "" {
		day := info.Date[:4] + info.Date[5:7] + info.Date[8:10]
		fmt.Fprintf(&b, "/CreationDate(D:%s000000+00'00')/ModDate(D:%s000000+00'00')", day, day)
	}
	b.WriteString(">>")
	return b.Bytes()
}

// bookmarks returns the outline's objects: its root, numbered first, then one a page.
func bookmarks(titles []string, pages []int, first int) ([][]byte, error) {
	if len(titles) == 0 {
		return nil, nil
	}
	if len(titles) != len(pages) {
		return nil, fmt.Errorf("%d bookmarks for %d pages", len(titles), len(pages))
	}
	last := first + len(titles)
	objects := [][]byte{fmt.Appendf(nil, "<</Type/Outlines/First %d 0 R/Last %d 0 R/Count %d>>", first+1, last, len(titles))}
	for i, title := range titles {
		number := first + 1 + i
		b := fmt.Appendf(nil, "<</Title%s/Parent %d 0 R/Dest[%d 0 R/Fit]", text(title), first, pages[i])
		if number > first+1 {
			b = fmt.Appendf(b, "/Prev %d 0 R", number-1)
		}
		if number < last {
			b = fmt.Appendf(b, "/Next %d 0 R", number+1)
		}
		objects = append(objects, append(b, ">>"...))
	}
	return objects, nil
}
