package threemf

import (
	"bytes"
	"compress/flate"
	"runtime"
	"strconv"
	"sync"
	"sync/atomic"

	"wheelmold/mesh"
)

// perSegment is the number of vertices or facets in a segment: about 300 KB of
// text, ten times the window in which deflate looks back.
const perSegment = 1 << 13

// level of compression: 5 makes files a third smaller here and takes three
// times as long.
const level = 1

// segment appends a stretch of a part's text.
type segment func([]byte) []byte

func literal[T string | []byte](s T) segment {
	return func(b []byte) []byte { return append(b, s...) }
}

func vertices(v []mesh.Vec) segment {
	return func(b []byte) []byte {
		for _, p := range v {
			b = append(b, `<vertex x="`...)
			b = number(b, p[0])
			b = append(b, `" y="`...)
			b = number(b, p[1])
			b = append(b, `" z="`...)
			b = number(b, p[2])
			b = append(b, "\"/>\n"...)
		}
		return b
	}
}

func triangles(t [][3]int32) segment {
	return func(b []byte) []byte {
		for _, f := range t {
			b = append(b, `<triangle v1="`...)
			b = strconv.AppendInt(b, int64(f[0]), 10)
			b = append(b, `" v2="`...)
			b = strconv.AppendInt(b, int64(f[1]), 10)
			b = append(b, `" v3="`...)
			b = strconv.AppendInt(b, int64(f[2]), 10)
			b = append(b, "\"/>\n"...)
		}
		return b
	}
}

// packed is a segment's text, and the piece of a deflate stream that holds it.
type packed struct{ raw, deflated []byte }

// pack makes a deflate stream of the segments, each by itself: a flushed piece
// ends on a whole byte, so the pieces joined are one stream, and they may be
// made in any order.
func pack(text []segment) []packed {
	out := make([]packed, len(text))
	var turn atomic.Int32
	var wg sync.WaitGroup
	for range min(len(text), runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			// Errors: the level is valid, and a bytes.Buffer takes everything.
			z, _ := flate.NewWriter(nil, level)
			for {
				i := int(turn.Add(1)) - 1
				if i >= len(text) {
					return
				}
				var b bytes.Buffer
				z.Reset(&b)
				out[i].raw = text[i](nil)
				_, _ = z.Write(out[i].raw)
				if i < len(text)-1 {
					_ = z.Flush()
				} else {
					_ = z.Close()
				}
				out[i].deflated = b.Bytes()
			}
		})
	}
	wg.Wait()
	return out
}
