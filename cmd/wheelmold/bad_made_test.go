package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf16"

	"wheelmold/mold/study"
)

const soundJob = "name = \"gray teal\"\nwheel.diameter = \"90 mm\"\nwheel.width = \"30 mm\"\nhub.bore = \"8 mm\"\n"

// madeBad are the bad jobs that no archive of text can hold, or that are too large.
func madeBad(t *testing.T) (all []badJob) {
	t.Helper()
	add := func(name, text, want string) {
		all = append(all, wanting(t, "made/"+name, []byte(text), "3\n"+want))
	}
	badSizes(add)
	badBytes(add)
	badCharacters(add)
	badDepths(add)
	badCounts(add)
	return all
}

const missingAll = `wheel.diameter: missing
hint: write diameter = "90 mm" under [wheel]
wheel.width: missing
hint: write width = "40 mm" under [wheel]
hub.bore: missing
hint: write bore = "12 mm" under [hub]`

func badSizes(add func(name, text, want string)) {
	add("empty", "", missingAll)
	add("byte-order-mark-alone", "\ufeff", missingAll)
	const tooLarge = "is larger than 65536 bytes: no job file"
	add("50-megabytes", "#"+strings.Repeat(" ", 50<<20)+"\n"+soundJob, tooLarge)
	add("50-megabytes-of-zero", strings.Repeat("\x00", 50<<20), tooLarge)
	add("large-mesh", strings.Repeat(" ", 80)+"\xd0\x07\x00\x00"+strings.Repeat("\x00", 50*2000), tooLarge+", but what looks like an STL mesh\nhint: name the job, a text file that ends in .toml")
	add("one-byte-too-many", soundJob+strings.Repeat("#", maxJob+1-len(soundJob)), tooLarge)
	add("name-as-long-as-a-job", soundJob[strings.Index(soundJob, "wheel"):]+"name = '"+strings.Repeat("a", 60000)+"'\n", "… (60002 characters): longer than 60 characters")
}

func badBytes(add func(name, text, want string)) {
	const zero = "not TOML: holds a byte of zero, as binary files do, and text in UTF-16\nhint: save it as UTF-8"
	add("zero-at-the-end", soundJob+"\x00", zero)
	add("zero-in-a-name", strings.Replace(soundJob, "gray", "gr\x00ay", 1), zero)
	add("only-zeros", strings.Repeat("\x00", 4096), zero)
	add("program", "\x7fELF\x02\x01\x01"+strings.Repeat("\x00", 100), zero)
	add("picture", "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "is no job file, but what looks like a PNG picture\nhint: name the job, a text file that ends in .toml")
	add("zip", "PK\x03\x04\x14\x00\x00\x00", "is no job file, but what looks like a ZIP archive")
	add("mesh", "made of two\n"+strings.Repeat(" ", 68)+"\x02\x00\x00\x00"+strings.Repeat("\x00", 100), "is no job file, but what looks like an STL mesh")
	add("mesh-as-text", "solid a\n facet normal 0 0 1\n", "is no job file, but what looks like an STL mesh")
	add("step", "ISO-10303-21;\nHEADER;\n", "is no job file, but what looks like a STEP file")
	add("page", "\n<!DOCTYPE html>\n<html>", "is no job file, but what looks like an HTML page")
	add("3mf", "PK\x03\x04\x14\x00\x00\x00 3D/3dmodel.model", "is no job file, but what looks like a 3MF file")
	add("drawing", "  0\nSECTION\n  2\n", "is no job file, but what looks like a DXF drawing")
	noise := make([]byte, 4096)
	r := rand.New(rand.NewPCG(1, 2))
	for i := range noise {
		noise[i] = byte(r.Uint32())
	}
	add("noise", string(noise), zero)

	const wide = "not TOML: text in UTF-16 or UTF-32\nhint: save it as UTF-8"
	add("utf-16-little", inUTF16("\ufeff"+soundJob, binary.LittleEndian), wide)
	add("utf-16-big", inUTF16("\ufeff"+soundJob, binary.BigEndian), wide)
	add("utf-16-unmarked", inUTF16(soundJob, binary.LittleEndian), zero)

	const none = "not TOML: holds bytes that are no UTF-8\nhint: save it as UTF-8"
	add("latin-1", strings.Replace(soundJob, "gray", "gr\xfcn", 1), none)
	add("overlong", strings.Replace(soundJob, "gray", "gr\xc0\xafy", 1), none)
	add("half-a-surrogate", strings.Replace(soundJob, "gray", "gr\xed\xa0\x80y", 1), none)
	add("cut-in-a-character", soundJob+"mold.outline = \"\xe2\x82", none)
	add("remark-of-no-encoding", soundJob+"# \xff\xfe\n", none)
	add("key-of-no-encoding", soundJob+"m\xffld = 1\n", none)
}

func inUTF16(s string, order binary.ByteOrder) string {
	var b bytes.Buffer
	for _, unit := range utf16.Encode([]rune(s)) {
		binary.Write(&b, order, unit) // a buffer takes everything
	}
	return b.String()
}

func badCharacters(add func(name, text, want string)) {
	add("raw-escape", strings.Replace(soundJob, "gray", "gr\x1b[31my", 1), "not TOML: basic strings cannot have control characters")
	add("raw-delete", strings.Replace(soundJob, "gray", "gr\x7fy", 1), "not TOML: basic strings cannot have control characters")
	add("raw-escape-in-a-remark", soundJob+"# \x1b[2J\n", "not TOML: control characters are not allowed in comments")
	add("raw-right-to-left", strings.Replace(soundJob, "gray", "gr\u202ey", 1), `name = "gr\u202ey teal": has characters that cannot be printed`)
	add("raw-isolate", strings.Replace(soundJob, "gray", "gr\u2066y\u2069", 1), `name = "gr\u2066y\u2069 teal": has characters that cannot be printed`)
	add("right-to-left-in-a-key", soundJob+"mo\u202eld = 1\n", "not TOML: expected '=' after key")
	add("two-byte-order-marks", "\ufeff\ufeff"+soundJob, "not TOML: invalid character at start of key\nhint: take the byte order mark away")
	add("carriage-returns-alone", strings.ReplaceAll(soundJob, "\n", "\r"), "not TOML: expected newline but got U+000D\nhint: save it with the usual line ends, LF or CR LF")
}

func badDepths(add func(name, text, want string)) {
	const deep = "nested more than the maximum of 10000 levels deep"
	add("deep-arrays", soundJob+"mold.outline = "+strings.Repeat("[", 30000)+strings.Repeat("]", 30000)+"\n", deep)
	add("deep-open-arrays", soundJob+"mold.outline = "+strings.Repeat("[", 60000), deep)
	add("deep-tables", soundJob+"mold = "+strings.Repeat("{a=", 16000)+"1"+strings.Repeat("}", 16000)+"\n", deep)
	add("less-deep-arrays", soundJob+"mold.outline = "+strings.Repeat("[", 9000)+strings.Repeat("]", 9000)+"\n",
		`mold.outline = […]: is an array, not a word in quotes: write "round"`)
	add("deep-key", soundJob+"a"+strings.Repeat(".a", 31000)+" = 1\n", "… (62001 characters) = 1: unknown key")
	add("deep-section", soundJob+"[a"+strings.Repeat(".a", 31000)+"]\n", "… (62001 characters): unknown section")
	add("long-key", soundJob+strings.Repeat("k", 60000)+" = 1\n", "… (60000 characters) = 1: unknown key")
}

func badCounts(add func(name, text, want string)) {
	add("grooves", soundJob+strings.Repeat("[[wheel.groove]]\n", 3700), "wheel.groove = 3700: allowed 0 to 40: too large")
	add("grooves-in-a-line", soundJob+"wheel.groove = ["+strings.Repeat("{},", 20000)+"]\n", "wheel.groove = 20000: allowed 0 to 40: too large")
	add("hub-grooves", soundJob+strings.Repeat("[[hub.groove]]\n", 300), "hub.groove = 300: allowed 0 to 40: too large")
	add("cutters", soundJob+strings.Repeat("[[machining.cutter]]\n", 300), "machining.cutter = 300: allowed 0 to 40: too large")
	add("digits", strings.Replace(soundJob, "30 mm", strings.Repeat("9", 60000)+" mm", 1), "… (60005 characters): has more than 400 digits")
	add("fractions", strings.Replace(soundJob, "30 mm", strings.Repeat("1/", 30000)+"1 mm", 1), "… (60006 characters): has more than 400 digits")
	add("count-of-digits", soundJob+"mold.vents.count = "+strings.Repeat("9", 60000)+"\n", "… (60000 characters): allowed 0 to 64: is absurdly large")

	var unknown, told strings.Builder
	for i := range 2000 {
		fmt.Fprintf(&unknown, "wheel.of_fortune_%04d = 1\n", i)
		if i < study.MostFaults {
			fmt.Fprintf(&told, "wheel.of_fortune_%04d = 1: unknown key\n", i)
		}
	}
	add("unknown-keys", soundJob+unknown.String(), told.String()+"and 1950 more: mend those above first\n")
	add("one-key-over-and-over", soundJob+strings.Repeat("mold.outline = \"round\"\n", 500),
		strings.Repeat("mold.outline = \"round\": stated twice, first in line 5\n", study.MostFaults)+"and 449 more: mend those above first\n")
}
