package render

import "sync"

// Drawings of the built-in structures.
func init() {
	for id, draw := range map[string]func(*sketch){
		"bin_lidded": func(s *sketch) {
			s.soil(40, 440)
			s.plant(240, ground, 108)
			s.line(heavy, spot{120, ground}, spot{138, 112}, spot{342, 112}, spot{360, ground})
			s.line(heavy, spot{106, ground - 14}, spot{120, ground - 14})
			s.line(heavy, spot{360, ground - 14}, spot{374, ground - 14})
			s.line(fine, spot{150, 140}, spot{142, 214})
			s.line(fine, spot{160, 140}, spot{156, 184})
			s.stone(240, 112) // weighted down
			s.line(fine, spot{138, 124}, spot{342, 124})
		},
		"bed_lid": func(s *sketch) {
			s.soil(10, 470)
			s.line(heavy, spot{40, ground}, spot{40, 204}, spot{320, 204}, spot{320, ground})
			s.line(heavy, spot{320, 204}, spot{440, 146}, spot{440, 206}, spot{320, ground})
			s.line(fine, spot{40, 232}, spot{320, 232}, spot{440, 176})
			a, b, c, d := spot{40, 190}, spot{320, 190}, spot{440, 96}, spot{166, 96}
			s.line(heavy, a, b, c, d, a)
			for _, t := range []float64{0.25, 0.5, 0.75} {
				s.line(plain, spot{a.x + (b.x-a.x)*t, a.y}, spot{d.x + (c.x-d.x)*t, d.y})
			}
			for i := range 12 { // the flutes of a twin-wall sheet
				t := (float64(i) + 0.5) / 12
				s.line(fine, spot{a.x + (b.x-a.x)*t, a.y - 6}, spot{a.x + (b.x-a.x)*t + 16, a.y - 18})
			}
			s.line(plain, spot{330, 200}, spot{330, 182})
		},
		"bed_tunnel": func(s *sketch) {
			s.soil(10, 470)
			f := arch(120, 226, 170, 100)
			s.length(f, 250, -70, 5, plain)
			s.gleam(f, 250, -70)
			s.line(heavy, spot{35, 226}, spot{35, ground}, spot{205, ground}, spot{205, 226})
			s.line(heavy, spot{205, ground}, spot{455, ground - 70}, spot{455, 156})
			for _, x := range []float64{80, 120, 160} {
				s.plant(x, 226, 58)
			}
		},
		"hail_hoops": func(s *sketch) {
			s.soil(10, 470)
			f := arch(130, ground, 190, 168)
			s.length(f, 230, -60, 3, plain)
			s.gleam(f, 230, -60)
			for _, x := range []float64{84, 130, 176} {
				s.plant(x, ground, 92)
			}
			for _, p := range []spot{{40, 84}, {84, 52}, {150, 50}, {214, 28}, {440, 40}} {
				s.line(plain, arc(p.x, p.y, 7, 7, 0, 360)...)
			}
		},
		"pipe_tunnel": func(s *sketch) {
			s.soil(10, 470)
			f := arch(140, ground, 230, 186)
			s.length(f, 200, -56, 4, plain)
			s.door(140, ground, 54, 118)
			n := len(f) - 1
			for _, k := range []int{2, 3} { // the side that rolls up
				s.line(plain, f[n-k], spot{f[n-k].x + 200, f[n-k].y - 56})
			}
			s.line(plain, f[n-2], spot{f[n-2].x - 22, f[n-2].y + 8}, spot{f[n-2].x - 22, f[n-2].y + 24})
		},
		"dome_lamps": func(s *sketch) {
			s.soil(40, 440)
			s.line(heavy, arch(240, ground, 300, 196)...)
			s.line(plain, arc(240, ground, 76, 196, 180, 0)...)
			s.line(plain, arc(240, ground-8, 150, 34, 180, 360)...)
			for _, x := range []float64{190, 290} {
				s.plant(x, ground+6, 76)
			}
			s.line(plain, bend(spot{176, 100}, spot{240, 136}, spot{304, 100})...)
			for _, p := range []spot{{196, 112}, {226, 120}, {256, 120}, {286, 112}} {
				s.line(plain, append(arc(p.x, p.y+12, 8, 10, 90, 450), spot{p.x, p.y + 2})...)
			}
			s.line(fine, spot{304, 100}, spot{330, 140}, spot{404, ground - 4})
		},
		"tent_house": func(s *sketch) {
			s.soil(10, 470)
			f := gable(140, ground, 216, 86, 196)
			s.length(f, 200, -54, 3, plain)
			s.line(plain, spot{140, ground}, spot{140, 66})
			s.line(plain, bend(spot{140, 120}, spot{110, 210}, spot{84, ground})...) // the flap of the door
			s.line(plain, f[1], spot{10, ground})                                    // guy lines
			s.line(plain, spot{f[3].x + 200, f[3].y - 54}, spot{468, ground - 34})
			s.line(fine, f[3], spot{f[3].x + 200, f[3].y - 54})
		},
		"film_house": func(s *sketch) {
			s.soil(10, 470)
			f := walled(130, ground, 220, 56, 176)
			s.length(f, 220, -70, 7, plain)
			s.line(heavy, spot{94, ground}, spot{94, ground - 106}, spot{166, ground - 106}, spot{166, ground})
			s.line(plain, spot{130, ground}, spot{130, ground - 106})
			s.line(fine, spot{32, ground - 110}, spot{228, ground - 110})
			last := f[len(f)-1]
			s.line(plain, spot{last.x, last.y - 50}, spot{last.x + 220, last.y - 120})
		},
		"two_film_house": func(s *sketch) {
			s.soil(10, 470)
			f := walled(130, ground, 220, 56, 176)
			s.length(f, 220, -70, 7, plain)
			s.line(plain, walled(130, ground, 194, 52, 162)...)
			s.line(heavy, spot{94, ground}, spot{94, ground - 100}, spot{166, ground - 100}, spot{166, ground})
			s.line(plain, spot{130, ground}, spot{130, ground - 100})
			s.line(plain, append(arc(72, ground-128, 11, 11, 0, 360), spot{83, ground - 128})...)
			s.line(plain, spot{80, ground - 137}, spot{92, ground - 147})
			for i := range 7 { // the gap between the films, along the roof
				t := (float64(i) + 0.5) / 7
				p := f[len(f)-7]
				s.line(fine, spot{p.x + 220*t - 7, p.y - 70*t}, spot{p.x + 220*t + 7, p.y - 70*t})
			}
		},
		"glass_shelter": func(s *sketch) { s.glassHouse(40) },
		"water_shed": func(s *sketch) {
			s.soil(10, 470)
			// A glazed front that leans, boards at the back, drums of water inside.
			s.line(heavy, spot{60, ground}, spot{120, 92}, spot{350, 92}, spot{290, ground}, spot{60, ground})
			s.line(heavy, spot{120, 92}, spot{190, 66}, spot{420, 66}, spot{350, 92})
			s.line(heavy, spot{420, 66}, spot{440, 216}, spot{290, ground})
			for _, t := range []float64{0.25, 0.5, 0.75} {
				s.line(plain, spot{60 + 230*t, ground}, spot{120 + 230*t, 92})
			}
			for _, y := range []float64{0.35, 0.68} {
				s.line(fine, spot{60 + 60*y, ground - 170*y}, spot{290 + 60*y, ground - 170*y})
			}
			for _, y := range []float64{0.25, 0.5, 0.75} { // boards of the end
				s.line(fine, spot{290 + 60*y, ground - 170*y}, spot{440 - 20*y, 216 - 150*y})
			}
			for i := range 4 {
				x := 104 + 50*float64(i)
				s.line(plain, spot{x - 16, 190}, spot{x - 16, 240})
				s.line(plain, spot{x + 16, 190}, spot{x + 16, 240})
				s.line(plain, arc(x, 190, 16, 5, 0, 360)...)
				s.line(plain, arc(x, 240, 16, 5, 180, 360)...)
				s.line(fine, spot{x - 16, 214}, spot{x + 16, 214})
			}
		},
		"pot_shed": func(s *sketch) {
			s.soil(10, 470)
			f := gable(160, ground, 210, 118, 186)
			s.length(f, 180, -46, 1, plain)
			s.line(heavy, f[1], spot{f[1].x - 12, f[1].y + 8})
			s.line(heavy, f[3], spot{f[3].x + 180, f[3].y - 46})
			for _, up := range []float64{24, 48, 72, 96} { // boards
				s.line(fine, spot{265, ground - up}, spot{445, ground - up - 46})
			}
			s.line(heavy, spot{94, ground - 26}, spot{94, ground - 104}, spot{226, ground - 104}, spot{226, ground - 26}, spot{94, ground - 26})
			s.line(plain, spot{160, ground - 26}, spot{160, ground - 104})
			for _, x := range []float64{127, 193} { // pots behind the window
				s.line(plain, spot{x - 14, ground - 52}, spot{x - 10, ground - 28}, spot{x + 10, ground - 28}, spot{x + 14, ground - 52}, spot{x - 14, ground - 52})
				s.plant(x, ground-52, 46)
			}
		},
	} {
		sketches[id] = draw
	}
}

// sketchOf is the drawing of a cover or structure; one without a drawing of its own is
// drawn as its kind ("fabric", "film", "glass", "mulch"). False where neither is known.
func sketchOf(id, kind string) (*sketch, bool) {
	name, draw := id, sketches[id]
	if draw == nil {
		name = sketchKinds[kind]
		if draw = sketches[name]; draw == nil {
			return nil, false
		}
	}
	if s, ok := drawn.Load(name); ok {
		return s.(*sketch), true
	}
	s := &sketch{}
	draw(s)
	s.strokes = s.paths()
	drawn.Store(name, s)
	return s, true
}

// drawn is every drawing that was asked for, by its name in sketches; nobody changes one.
var drawn sync.Map
