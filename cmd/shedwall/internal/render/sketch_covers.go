package render

import "math"

// sketches is a drawing for each built-in cover; structures are in
// sketch_structures.go.
var sketches = map[string]func(*sketch){
	"fabric_laid": func(s *sketch) {
		s.soil(20, 460)
		var cloth []spot
		cloth = append(cloth, spot{40, ground - 4})
		for i := range 4 {
			x := 105 + 90*float64(i)
			s.plant(x, ground, 82)
			if i == 0 {
				cloth = append(cloth, bend(spot{40, ground - 4}, spot{62, ground - 62}, spot{x - 22, ground - 88})...)
			}
			cloth = append(cloth, arc(x, ground-82, 24, 14, 165, 15)...)
			if i < 3 {
				cloth = append(cloth, bend(spot{x + 24, ground - 84}, spot{x + 45, ground - 62}, spot{x + 66, ground - 84})...)
			}
		}
		cloth = append(cloth, bend(spot{398, ground - 86}, spot{418, ground - 62}, spot{440, ground - 4})...)
		s.dashed(heavy, cloth...)
		s.stone(34, ground)
		s.stone(446, ground)
	},
	"fabric_light": func(s *sketch) { s.hooped(0, 6) },
	"fabric":       func(s *sketch) { s.hooped(0, 3) },
	"fabric_heavy": func(s *sketch) {
		s.hooped(2, 2)
	},
	"tunnel": func(s *sketch) {
		f := s.hooped(0, 0)
		s.gleam(f, 210, -86)
	},
	"tunnel_slit": func(s *sketch) {
		f := s.hooped(0, 0)
		n := len(f) - 1
		for i := range 9 {
			t := 0.06 + 0.105*float64(i)
			for _, k := range []int{2, 4} {
				p, q := f[n-k], f[n-k-1]
				s.line(plain, spot{p.x + 210*t, p.y - 86*t}, spot{q.x + 210*t, q.y - 86*t})
			}
		}
	},
	"cloche": func(s *sketch) {
		s.soil(60, 420)
		s.plant(240, ground, 108)
		body := []spot{{165, ground}, {165, 130}}
		body = append(body, bend(spot{165, 130}, spot{166, 84}, spot{222, 70})...)
		body = append(body, spot{222, 46}, spot{258, 46}, spot{258, 70})
		body = append(body, bend(spot{258, 70}, spot{314, 84}, spot{315, 130})...)
		body = append(body, spot{315, ground})
		s.line(heavy, body...)
		s.line(plain, bend(spot{315, 120}, spot{366, 128}, spot{315, 186})...)
		s.line(plain, bend(spot{315, 136}, spot{345, 138}, spot{315, 170})...)
		s.line(fine, spot{183, 148}, spot{183, 224})
		s.line(fine, spot{352, ground - 3}, spot{356, ground - 21}, spot{388, ground - 17}, spot{384, ground - 1}) // the cap lies beside it
	},
	"water_ring": func(s *sketch) {
		s.soil(60, 420)
		s.plant(240, 150, 112)
		const n = 9
		for i := range n {
			x := 142 + 196*float64(i)/n
			tube := []spot{{x, ground - 4}, {x + 4, 142}}
			tube = append(tube, arc(x+13, 142, 9, 11, 180, 0)...)
			s.line(plain, append(tube, spot{x + 196/n, ground - 4})...)
			s.line(fine, spot{x + 8, 166}, spot{x + 18, 166})
		}
		s.line(heavy, append(arc(240, ground-4, 98, 16, 180, 360), spot{338, ground - 4})...)
		s.line(plain, arc(240, 134, 94, 20, 12, 168)...)
	},
	"frame": func(s *sketch) {
		s.soil(20, 460)
		s.line(heavy, spot{70, ground}, spot{70, 196}, spot{300, 196}, spot{300, ground}) // low front
		s.line(heavy, spot{300, 196}, spot{404, 124}, spot{404, 214}, spot{300, ground})  // end board
		s.line(fine, spot{70, 228}, spot{300, 228}, spot{404, 168})
		// The lid turns at the back and stands open on a stick.
		a, b, c, d := spot{126, 50}, spot{356, 50}, spot{404, 124}, spot{174, 124}
		s.line(heavy, a, b, c, d, a)
		s.line(fine, d, spot{70, 196})
		for _, t := range []float64{0.333, 0.667} {
			s.line(plain, spot{a.x + (b.x-a.x)*t, a.y}, spot{d.x + (c.x-d.x)*t, d.y})
		}
		s.line(fine, spot{150, 87}, spot{380, 87})
		s.line(plain, spot{330, 175}, spot{364, 66})
		for _, x := range []float64{110, 170, 230} {
			s.line(plain, bend(spot{x, 195}, spot{x - 8, 184}, spot{x - 14, 180})...)
			s.line(plain, bend(spot{x, 195}, spot{x + 8, 184}, spot{x + 14, 180})...)
		}
	},
	"blanket": func(s *sketch) {
		s.soil(20, 460)
		s.plant(190, ground, 120)
		s.plant(300, ground, 110)
		s.line(plain, spot{120, ground}, spot{120, 96})
		s.line(plain, spot{360, ground}, spot{360, 96})
		top := bend(spot{120, 90}, spot{240, 112}, spot{360, 90})
		left := bend(spot{120, 90}, spot{92, 160}, spot{52, ground - 3})
		right := bend(spot{360, 90}, spot{388, 160}, spot{428, ground - 3})
		s.dashed(heavy, left...)
		s.dashed(heavy, top...)
		s.dashed(heavy, right...)
		for _, x := range []float64{150, 250, 336} { // folds
			s.dashed(fine, bend(spot{x, 104}, spot{x - 8, 130}, spot{x - 4, 158})...)
		}
		s.stone(48, ground)
		s.stone(432, ground)
	},
	"straw": func(s *sketch) {
		s.soil(20, 460)
		for i := range 3 {
			x := 120 + 120*float64(i)
			s.line(plain, bend(spot{x, 178}, spot{x - 6, 150}, spot{x - 20, 130})...)
			s.line(plain, bend(spot{x, 178}, spot{x + 4, 150}, spot{x + 18, 126})...)
			s.line(plain, spot{x, 178}, spot{x, 120})
		}
		s.line(plain, append(bend(spot{40, ground}, spot{70, 176}, spot{150, 178}), append(bend(spot{150, 178}, spot{240, 166}, spot{330, 178}), bend(spot{330, 178}, spot{410, 176}, spot{440, ground})...)...)...)
		for i := range 46 { // straws, each turned by a rule that looks like none
			u := float64(i*37%46) / 46
			v := float64(i*17%23) / 23
			x := 76 + 328*u
			y := 192 + 58*v
			if x < 110 || x > 370 {
				y = max(y, 222)
			}
			a := float64(i*53%180) * math.Pi / 180
			s.line(fine, spot{x - 14*math.Cos(a), y - 7*math.Sin(a)}, spot{x + 14*math.Cos(a), y + 7*math.Sin(a)})
		}
	},
	"caterpillar": func(s *sketch) {
		s.soil(10, 470)
		f := walled(130, ground, 170, 40, 170)
		s.length(f, 220, -60, 4, plain)
		n := len(f) - 1
		from := seen(f, 220, -60)
		for i := range 4 { // a rope over the film between the hoops, from side to side
			a, b := float64(i)/4, float64(i+1)/4
			var rope []spot
			for k := from; k <= n; k++ {
				t := a + (b-a)*float64(k-from)/float64(n-from)
				rope = append(rope, spot{f[k].x + 220*t, f[k].y - 60*t})
			}
			s.dashed(plain, rope...)
		}
		// The film of the end is gathered and tied to a peg.
		for _, p := range []int{2, 4, 6, 8, 10, 12} {
			if p < n {
				s.line(fine, f[p], spot{86, ground - 14})
			}
		}
		s.line(plain, spot{86, ground - 14}, spot{34, ground - 4})
		s.line(heavy, spot{40, ground - 18}, spot{30, ground + 8})
	},
	"hightunnel": func(s *sketch) { s.walkIn(false) },
	"double_house": func(s *sketch) {
		s.walkIn(true)
	},
	"glass_house": func(s *sketch) { s.glassHouse(0) },
	"hail_cloth": func(s *sketch) {
		s.soil(20, 460)
		for _, x := range []float64{120, 190, 260, 330} {
			s.plant(x, ground, 96)
		}
		f := arch(225, ground, 360, 176)
		s.line(heavy, f...)
		for i := range 9 { // a net
			x := 66 + 40*float64(i)
			z := 176 * math.Sqrt(max(0, 1-math.Pow((x-225)/180, 2)))
			s.dashed(fine, spot{x, ground - z}, spot{x, ground - z*0.62})
		}
		s.dashed(fine, arc(225, ground, 172, 150, 165, 15)...)
		s.dashed(fine, arc(225, ground, 166, 124, 155, 25)...)
		for _, p := range []spot{{90, 60}, {150, 34}, {222, 54}, {296, 30}, {356, 62}, {410, 100}, {48, 112}} {
			s.line(plain, arc(p.x, p.y, 8, 8, 0, 360)...)
		}
	},
}

// sketchKinds is what stands for a cover of a publisher's own, by its kind.
var sketchKinds = map[string]string{"fabric": "fabric", "film": "tunnel", "glass": "frame", "mulch": "straw"}

// hooped is a low tunnel over a row of plants and gives its front. inner hoops are
// drawn inside it; cloth has dashed lines every weave points, 0 = film.
func (s *sketch) hooped(inner float64, weave int) []spot {
	s.soil(10, 470)
	f := arch(140, ground, 210, 128)
	s.length(f, 210, -86, 3, plain)
	for _, x := range []float64{90, 140, 190} {
		s.plant(x, ground, 74)
	}
	if inner > 0 { // a thick cloth: its edge is drawn double
		s.line(plain, arch(140, ground, 192, 117)...)
	}
	if weave > 0 {
		s.weave(f, 210, -86, max(1, weave/2))
		if weave == 2 {
			for i := range 5 {
				t := 0.1 + 0.2*float64(i)
				s.dashed(fine, moved(f[seen(f, 210, -86):], 210*t, -86*t)...)
			}
		}
	}
	return f
}

// walkIn is a high tunnel with a door and sides that roll up; two draws a second film
// and the blower between.
func (s *sketch) walkIn(two bool) {
	s.soil(10, 470)
	f := walled(140, ground, 220, 70, 190)
	s.length(f, 190, -50, 4, plain)
	s.door(140, ground, 58, 108)
	s.line(fine, spot{37, ground - 112}, spot{243, ground - 112})
	last := f[len(f)-1]
	for _, up := range []float64{62, 72} { // the rolled-up side
		s.line(plain, spot{last.x, last.y - up}, spot{last.x + 190, last.y - up - 50})
	}
	if two {
		s.line(plain, walled(140, ground, 196, 66, 176)...)
		s.line(plain, append(arc(84, ground-138, 12, 12, 0, 360), spot{96, ground - 138})...)
		s.line(plain, spot{92, ground - 148}, spot{104, ground - 158})
	} else {
		s.gleam(f, 190, -50)
	}
}

// glassHouse is a house of panes; low puts it on boards of so much height.
func (s *sketch) glassHouse(low float64) {
	s.soil(10, 470)
	f := gable(140, ground, 200, 120, 196)
	s.length(f, 200, -54, 4, plain)
	s.door(140, ground, 60, 116)
	s.line(plain, f[1], f[3])
	s.line(fine, spot{140, f[1].y}, f[2])
	for _, x := range []float64{74, 206} {
		s.line(fine, spot{x, ground}, spot{x, f[1].y})
	}
	mid := func(a, b spot) spot { return spot{(a.x + b.x) / 2, (a.y + b.y) / 2} }
	m := mid(f[2], f[3])
	s.line(fine, m, spot{m.x + 200, m.y - 54})
	s.line(heavy, f[3], spot{f[3].x + 200, f[3].y - 54})
	w := mid(f[3], f[4])
	s.line(fine, w, spot{w.x + 200, w.y - 54})
	if low > 0 {
		s.line(heavy, spot{240, ground - low}, spot{440, ground - low - 54})
	}
}
