package raster

// scene is everything to draw, as seen by the camera.
type scene struct {
	view   View
	camera camera
	shapes []shape
	paint  []paint // per surface
	slits  []slit  // the cut
	lights lights
	stamps stamps
}

// shape is a body's facets.
type shape struct {
	facets []facet
	rows   []rows // of the facets, apart from them: each band reads all of these
	cut    bool
	caps   int32 // surface of the first plane's cut; the next planes follow
}

// rows are the rows of samples that a facet may cover.
type rows struct{ first, last int }

// paint is what a surface looks like apart from its light.
type paint struct {
	body  int32
	color linear
}

func newScene(bodies []Body, v View) *scene {
	s := &scene{view: v, camera: newCamera(v.Azimuth, v.Elevation), stamps: newStamps(v)}
	planes := usable(v.Cut)
	for i := range bodies {
		s.add(int32(i), &bodies[i], len(planes))
	}
	s.camera.fit(s.shapes, planes, v)
	s.lights = newLights(&s.camera)
	for _, p := range planes {
		s.slits = append(s.slits, newSlit(p, &s.camera))
	}
	for i := range s.shapes {
		s.prepare(&s.shapes[i])
	}
	return s
}

// prepare puts a shape's facets on the camera's grid, drops those that vanish
// there, lights them, and measures them against the cutting planes.
func (s *scene) prepare(sh *shape) {
	kept := sh.facets[:0]
	for i := range sh.facets {
		f := &sh.facets[i]
		if !f.snap(&s.camera) {
			continue
		}
		for k, n := range f.normal {
			f.tone[k] = s.lights.tone(s.camera.turn(n))
		}
		if sh.cut {
			f.height = make([][3]float64, len(s.slits))
		}
		for i := range f.height {
			for k, p := range f.at {
				f.height[i][k] = s.slits[i].plane.height(p)
			}
		}
		kept = append(kept, *f)
	}
	sh.facets = kept
	sh.rows = make([]rows, len(kept))
	for i := range kept {
		f := &kept[i]
		sh.rows[i] = rows{int(min(f.y[0], f.y[1], f.y[2]) >> gridBits), int(max(f.y[0], f.y[1], f.y[2]) >> gridBits)}
	}
}

// add appends a body's facets, its paints, and those of its cuts.
func (s *scene) add(index int32, b *Body, planes int) {
	parts := findSurfaces(b.Mesh)
	normals := parts.normals()
	base := int32(len(s.paint))
	color := toLinear(b.Color)
	for range parts.count {
		s.paint = append(s.paint, paint{body: index, color: color})
	}
	sh := shape{cut: planes > 0 && !b.Whole, caps: int32(len(s.paint))}
	for range planes {
		s.paint = append(s.paint, paint{body: index, color: color.mix(white, capWhite)})
	}
	for i, t := range b.Mesh.T {
		f := facet{normal: normals[i], surf: base + parts.of[i]}
		drawable := true
		for k, v := range t {
			f.at[k] = b.Mesh.V[v].Add(b.Offset)
			drawable = drawable && finite(f.at[k])
		}
		if drawable {
			sh.facets = append(sh.facets, f)
		}
	}
	s.shapes = append(s.shapes, sh)
}
