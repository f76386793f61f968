package sheet

import (
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"maps"
	"slices"

	"github.com/tdewolff/font"
)

// svgTypefaces are what stands behind the embedded typeface, for programs that ignore fonts inside an SVG: the
// typeface has the widths of these letter by letter but for some thin ones, for which it is wider (compared for
// Liberation Sans), so that nothing runs over.
const svgTypefaces = "Go,Arial,Helvetica,'Liberation Sans',Arimo,'Nimbus Sans',sans-serif"

// embedded is a rule that carries those letters of a typeface that are in use: WOFF2, without hinting, which
// says how to draw letters of a few dots. Same letters, same bytes.
func embedded(program []byte, weight string, used map[rune]bool) (string, error) {
	whole, err := font.ParseSFNT(program, 0) // one of our own: cutting it down changes it
	if err != nil {
		return "", err
	}
	runes := slices.Sorted(maps.Keys(used))
	glyphs := []uint16{0} // the first one stands for what a font lacks
	at := map[rune]uint16{}
	for _, r := range runes {
		glyph := whole.GlyphIndex(r)
		k := slices.Index(glyphs, glyph)
		if k < 0 {
			k = len(glyphs)
			glyphs = append(glyphs, glyph)
		}
		at[r] = uint16(k)
	}
	cut, err := whole.Subset(glyphs, font.SubsetOptions{Tables: []string{"glyf", "head", "hhea", "hmtx", "loca", "maxp", "OS/2"}})
	if err != nil {
		return "", err
	}
	if err := stripHints(cut.Tables); err != nil {
		return "", err
	}
	cut.Tables["cmap"] = characterMap(runes, at)
	cut.Tables["name"] = []byte{0, 0, 0, 0, 0, 6}                  // no names
	cut.Tables["post"] = append([]byte{0, 3}, make([]byte, 30)...) // no names of glyphs
	clean, err := font.ParseSFNT(cut.Write(), 0)
	if err != nil {
		return "", err
	}
	copy(clean.Tables["head"][28:36], clean.Tables["head"][20:28]) // modified when created: no clock
	clear(clean.Tables["head"][8:12])                              // the checksum counted the clock in; WOFF2 has one anew
	packed, err := clean.WriteWOFF2()
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("@font-face{font-family:Go;font-weight:%s;src:url(data:font/woff2;base64,%s)}", weight, base64.StdEncoding.EncodeToString(packed)), nil
}

// characterMap is a table "cmap" of format 4, a segment for each character (OpenType specification).
func characterMap(runes []rune, glyph map[rune]uint16) []byte {
	segments := len(runes) + 1 // the last one is empty, as the format wants
	var ends, starts, deltas []uint16
	for _, r := range runes {
		ends, starts, deltas = append(ends, uint16(r)), append(starts, uint16(r)), append(deltas, glyph[r]-uint16(r))
	}
	ends, starts, deltas = append(ends, 0xFFFF), append(starts, 0xFFFF), append(deltas, 1)
	search, selector := 2, 0
	for search*2 <= segments*2 {
		search, selector = search*2, selector+1
	}
	words := []uint16{
		0, 1, 3, 1, 0, 12, // one table, for Windows and Unicode, behind these
		4, uint16(16 + 8*segments), 0, uint16(2 * segments), uint16(search), uint16(selector), uint16(2*segments - search),
	}
	words = slices.Concat(words, ends, []uint16{0}, starts, deltas, make([]uint16, segments))
	var table []byte
	for _, w := range words {
		table = binary.BigEndian.AppendUint16(table, w)
	}
	return table
}

// stripHints takes the instructions out of the glyphs of a font without the tables that they call.
//
// In one piece: a walk along the bytes of a glyph.
func stripHints(tables map[string][]byte) error {
	const (
		longOffsetsAt     = 50 // in "head"
		header            = 10 // of a glyph: its contours and its box
		moreComponents    = 0x20
		hasInstructions   = 0x100
		wordArguments     = 1
		scaled, scaledTwo = 0x08, 0x40
		matrix            = 0x80
	)
	word := binary.BigEndian
	glyf, loca, long := tables["glyf"], tables["loca"], word.Uint16(tables["head"][longOffsetsAt:]) == 1
	var offsets []int
	for k := 0; k < len(loca); {
		if long {
			offsets, k = append(offsets, int(word.Uint32(loca[k:]))), k+4
		} else {
			offsets, k = append(offsets, 2*int(word.Uint16(loca[k:]))), k+2
		}
	}
	var out, places []byte
	for i, from := range offsets {
		places = word.AppendUint32(places, uint32(len(out)))
		if i == len(offsets)-1 || offsets[i+1] == from {
			continue
		}
		glyph := slices.Clone(glyf[from:offsets[i+1]])
		contours := int(int16(word.Uint16(glyph)))
		at := header + 2*contours
		if contours < 0 {
			for at = header; ; {
				flags := word.Uint16(glyph[at:])
				word.PutUint16(glyph[at:], flags&^hasInstructions)
				at += 6
				if flags&wordArguments != 0 {
					at += 2
				}
				switch {
				case flags&scaled != 0:
					at += 2
				case flags&scaledTwo != 0:
					at += 4
				case flags&matrix != 0:
					at += 8
				}
				if flags&moreComponents == 0 {
					break
				}
			}
			glyph = glyph[:at]
		} else {
			length := int(word.Uint16(glyph[at:]))
			word.PutUint16(glyph[at:], 0)
			glyph = append(glyph[:at+2], glyph[at+2+length:]...)
		}
		out = append(out, glyph...)
		for len(out)%4 != 0 {
			out = append(out, 0)
		}
	}
	tables["glyf"], tables["loca"] = out, places
	word.PutUint16(tables["head"][longOffsetsAt:], 1)
	return nil
}
