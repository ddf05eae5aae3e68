package cad

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"strconv"
)

// binaryMark is what a binary DXF begins with.
var binaryMark = []byte("AutoCAD Binary DXF\r\n\x1a\x00")

// binaryGroups splits a binary DXF file into its pairs, with values spelt as an ASCII one has them. Lines are counted as in that too.
// Source: Autodesk, "DXF Reference": binary DXF files, and the types of group codes.
func binaryGroups(data []byte, each func(line int, p pair) error) error {
	data = data[len(binaryMark):]
	// Before release 13 a code is one byte, and 255 leads one of two. The first group is "0, SECTION": two bytes when the second is 0.
	wide := len(data) > 1 && data[0] == 0 && data[1] == 0
	take := func(n int) ([]byte, bool) {
		if len(data) < n {
			return nil, false
		}
		b := data[:n]
		data = data[n:]
		return b, true
	}
	for line := 2; len(data) > 0; line += 2 {
		code, ok := 0, true
		var b []byte
		switch {
		case wide:
			if b, ok = take(2); ok {
				code = int(int16(binary.LittleEndian.Uint16(b)))
			}
		default:
			if b, ok = take(1); ok {
				if code = int(b[0]); code == 255 {
					if b, ok = take(2); ok {
						code = int(binary.LittleEndian.Uint16(b))
					}
				}
			}
		}
		value := ""
		if ok {
			value, ok = binaryValue(code, take, &data)
		}
		if !ok {
			return errCut
		}
		if err := each(line, pair{code, value}); err != nil {
			return err
		}
	}
	return nil
}

// binaryValue takes the value of a group, as its code says it is kept.
func binaryValue(code int, take func(int) ([]byte, bool), rest *[]byte) (string, bool) {
	in := func(ranges ...int) bool {
		for i := 0; i < len(ranges); i += 2 {
			if code >= ranges[i] && code <= ranges[i+1] {
				return true
			}
		}
		return false
	}
	switch {
	case in(10, 59, 110, 149, 210, 239, 460, 469, 1010, 1059):
		b, ok := take(8)
		if !ok {
			return "", false
		}
		return strconv.FormatFloat(math.Float64frombits(binary.LittleEndian.Uint64(b)), 'g', -1, 64), true
	case in(60, 79, 170, 179, 270, 289, 370, 389, 400, 409, 1060, 1070):
		b, ok := take(2)
		if !ok {
			return "", false
		}
		return strconv.Itoa(int(int16(binary.LittleEndian.Uint16(b)))), true
	case in(90, 99, 420, 429, 440, 459, 1071, 1071):
		b, ok := take(4)
		if !ok {
			return "", false
		}
		return strconv.Itoa(int(int32(binary.LittleEndian.Uint32(b)))), true
	case in(160, 169):
		b, ok := take(8)
		if !ok {
			return "", false
		}
		return strconv.FormatInt(int64(binary.LittleEndian.Uint64(b)), 10), true
	case in(290, 299):
		b, ok := take(1)
		if !ok {
			return "", false
		}
		return strconv.Itoa(int(b[0])), true
	case in(310, 319, 1004, 1004):
		n, ok := take(1)
		if !ok {
			return "", false
		}
		b, ok := take(int(n[0]))
		return fmt.Sprintf("%X", b), ok
	}
	end := bytes.IndexByte(*rest, 0)
	if end < 0 {
		return "", false
	}
	text := string((*rest)[:end])
	*rest = (*rest)[end+1:]
	return text, true
}

// isDWG reports whether a file is one of the program's own kind that DXF is the exchange form of, by its first bytes.
func isDWG(data []byte) bool {
	return len(data) > 6 && bytes.HasPrefix(data, []byte("AC10")) && data[4] >= '0' && data[4] <= '9' && data[5] >= '0' && data[5] <= '9'
}

var errDWG = errors.New("this is a DWG file; save it as DXF in the program that made it")
