package photo

import (
	"bytes"
	"encoding/binary"
)

// storedMirrored tells whether a JPEG file says of its picture that it is stored as in a mirror:
// the orientations 2, 4, 5 and 7 of Exif (CIPA DC-008, tag 0112). By how much a picture is turned
// does not matter, as the card's marks tell.
func storedMirrored(file []byte) bool {
	const (
		markerStart, markerScan, markerApp1 = 0xD8, 0xDA, 0xE1
		head                                = "Exif\x00\x00"
	)
	if len(file) < 4 || file[0] != 0xFF || file[1] != markerStart {
		return false
	}
	rest := file[2:]
	for len(rest) >= 4 && rest[0] == 0xFF && rest[1] != markerScan {
		if rest[1] == 0xFF { // fill
			rest = rest[1:]
			continue
		}
		length := int(binary.BigEndian.Uint16(rest[2:]))
		if length < 2 || 2+length > len(rest) {
			return false
		}
		if body := rest[4 : 2+length]; rest[1] == markerApp1 && bytes.HasPrefix(body, []byte(head)) {
			switch exifOrientation(body[len(head):]) {
			case 2, 4, 5, 7:
				return true
			}
			return false
		}
		rest = rest[2+length:]
	}
	return false
}

// exifOrientation is that of the first directory of Exif, which is laid out as TIFF 6.0; 0 where
// it has none.
func exifOrientation(tiff []byte) int {
	const tagOrientation, typeShort, entryBytes = 0x0112, 3, 12
	var order binary.ByteOrder
	switch {
	case bytes.HasPrefix(tiff, []byte("II*\x00")):
		order = binary.LittleEndian
	case bytes.HasPrefix(tiff, []byte("MM\x00*")):
		order = binary.BigEndian
	default:
		return 0
	}
	if len(tiff) < 8 {
		return 0
	}
	at := uint64(order.Uint32(tiff[4:]))
	if at+2 > uint64(len(tiff)) {
		return 0
	}
	entries := tiff[at+2:]
	for range order.Uint16(tiff[at:]) {
		if len(entries) < entryBytes {
			return 0
		}
		if order.Uint16(entries) == tagOrientation && order.Uint16(entries[2:]) == typeShort {
			return int(order.Uint16(entries[8:]))
		}
		entries = entries[entryBytes:]
	}
	return 0
}

// mirror turns left and right about.
func (g *grey) mirror() {
	for y := range g.height {
		line := g.pix[y*g.width : (y+1)*g.width]
		for i, k := 0, len(line)-1; i < k; i, k = i+1, k-1 {
			line[i], line[k] = line[k], line[i]
		}
	}
}
