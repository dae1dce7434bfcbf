package step

import (
	"errors"

	"wheelmold/mesh"
	"wheelmold/mesh/region"
	"wheelmold/mesh/solid"
)

// voids lists, for every shell of positive volume, the voids inside of it. Of several
// lumps the boxes tell which one holds a void; where they do not, the solid is refused.
func voids(s *region.Solid) ([][]int, error) {
	out := make([][]int, len(s.Shells))
	var lumps []int
	for i, sh := range s.Shells {
		if sh.Volume > 0 {
			lumps = append(lumps, i)
		}
	}
	if len(lumps) == 0 {
		return nil, errors.New("a solid without a shell of positive volume")
	}
	for i, sh := range s.Shells {
		if sh.Volume > 0 {
			continue
		}
		if len(lumps) == 1 {
			out[lumps[0]] = append(out[lumps[0]], i)
			continue
		}
		within := -1
		for _, l := range lumps {
			if !box(s, l).Overlaps(box(s, i), 0) {
				continue
			}
			if within >= 0 {
				return nil, errors.New("a void that may lie in either of two lumps")
			}
			within = l
		}
		if within < 0 {
			return nil, errors.New("a void outside of every lump")
		}
		out[within] = append(out[within], i)
	}
	return out, nil
}

// box holds a shell: its edges, and of curved faces the whole range of parameters.
func box(s *region.Solid, shell int) mesh.Box {
	const steps = 16
	b := mesh.EmptyBox()
	for _, i := range s.Shells[shell].Faces {
		f := s.Faces[i]
		for k := range steps + 1 {
			t := float64(k) / steps
			for _, l := range f.Loops {
				for _, u := range l {
					e := s.Edges[u.Edge]
					b = b.Include(e.At(e.T0 + t*(e.T1-e.T0)))
				}
			}
			for j := 0; j <= steps && f.Carrier.Kind != solid.Plane; j++ {
				r := float64(j) / steps
				b = b.Include(f.Carrier.P(f.U[0]+t*(f.U[1]-f.U[0]), f.V[0]+r*(f.V[1]-f.V[0])))
			}
		}
	}
	return b
}
