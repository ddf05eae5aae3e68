package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"math"
)

func sqrt(x float32) float32 { return float32(math.Sqrt(float64(x))) }

// orientation reads how a camera was held from a JPEG file: 1 as it is, 3 upside down, 6 and 8 on its side; 1
// where the file does not say. Source: CIPA DC-008 (2012), "Exif 2.3", tag 0x0112 in the first directory of
// TIFF 6.0.
func orientation(data []byte) int {
	if len(data) < 4 || data[0] != 0xFF || data[1] != 0xD8 {
		return 1
	}
	for at := 2; at+4 <= len(data) && data[at] == 0xFF; {
		size := int(binary.BigEndian.Uint16(data[at+2:]))
		if data[at+1] == 0xDA || size < 2 || at+2+size > len(data) { // the picture itself begins
			return 1
		}
		if body := data[at+4 : at+2+size]; data[at+1] == 0xE1 && bytes.HasPrefix(body, []byte("Exif\x00\x00")) {
			return inTIFF(body[6:])
		}
		at += 2 + size
	}
	return 1
}

// inTIFF finds the orientation in a TIFF header.
func inTIFF(b []byte) int {
	if len(b) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.LittleEndian
	if b[0] == 'M' {
		order = binary.BigEndian
	}
	at := int(order.Uint32(b[4:]))
	if at < 8 || at+2 > len(b) {
		return 1
	}
	n := int(order.Uint16(b[at:]))
	for i := range n {
		e := at + 2 + 12*i
		if e+12 > len(b) {
			break
		}
		if order.Uint16(b[e:]) == 0x0112 {
			return int(order.Uint16(b[e+8:]))
		}
	}
	return 1
}

// turned is a picture seen as a viewer shows it.
type turned struct {
	image.Image
	how int
}

// upright turns a picture as its orientation says.
func upright(img image.Image, how int) image.Image {
	switch how {
	case 3, 6, 8:
		return turned{img, how}
	}
	return img
}

func (t turned) Bounds() image.Rectangle {
	b := t.Image.Bounds()
	if t.how == 3 {
		return image.Rect(0, 0, b.Dx(), b.Dy())
	}
	return image.Rect(0, 0, b.Dy(), b.Dx())
}

func (t turned) At(x, y int) color.Color {
	b := t.Image.Bounds()
	switch t.how {
	case 3:
		x, y = b.Dx()-1-x, b.Dy()-1-y
	case 6: // to be turned a quarter clockwise
		x, y = y, b.Dy()-1-x
	case 8: // a quarter the other way
		x, y = b.Dx()-1-y, x
	}
	return t.Image.At(b.Min.X+x, b.Min.Y+y)
}
