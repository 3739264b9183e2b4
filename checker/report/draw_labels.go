package report

import "math"

// box is a rectangle of the drawing that is taken.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) meets(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 }

func boxAt(centre point, width, height float64) box {
	return box{centre.x - width/2, centre.y - height/2, centre.x + width/2, centre.y + height/2}
}

// placer keeps labels clear of symbols and of each other. Boxes are kept by
// square cells, so that a large plan costs no more for each label.
type placer struct {
	cells map[[2]int][]box
	frame *frame
	ways  []point // in which to look for room, the best first
}

const placerCell = 40.0

func newPlacer(f *frame) *placer { return &placer{map[[2]int][]box{}, f, directions} }

func (p *placer) each(b box, visit func(cell [2]int)) {
	for x := int(math.Floor(b.x0 / placerCell)); x <= int(math.Floor(b.x1/placerCell)); x++ {
		for y := int(math.Floor(b.y0 / placerCell)); y <= int(math.Floor(b.y1/placerCell)); y++ {
			visit([2]int{x, y})
		}
	}
}

// take marks a rectangle as taken.
func (p *placer) take(b box) {
	p.each(b, func(cell [2]int) { p.cells[cell] = append(p.cells[cell], b) })
}

func (p *placer) free(b box) bool {
	f := p.frame
	if b.x0 < f.left || b.y0 < f.top || b.x1 > f.left+f.width || b.y1 > f.top+f.height {
		return false
	}
	free := true
	p.each(b, func(cell [2]int) {
		for _, taken := range p.cells[cell] {
			free = free && !b.meets(taken)
		}
	})
	return free
}

// directions are tried in this order: beside first, then above and below, then
// between.
var directions = ways(0, 180, 90, 270, 45, 315, 135, 225, 22.5, 337.5, 157.5, 202.5, 67.5, 292.5, 112.5, 247.5)

// upright are tried where lines run across: above and below first.
var upright = ways(90, 270, 60, 120, 240, 300, 30, 150, 210, 330, 0, 180)

func ways(degrees ...float64) []point {
	var out []point
	for _, deg := range degrees {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		out = append(out, point{math.Round(cos*1e6) / 1e6, -math.Round(sin*1e6) / 1e6})
	}
	return out
}

// settle finds room for a rectangle near an anchor and takes it: at each of the
// distances from the anchor's edge, all round. ok is false when there is none.
func (p *placer) settle(anchor point, width, height, radius float64, distances ...float64) (centre point, ok bool) {
	for _, d := range distances {
		for _, way := range p.ways {
			centre := point{
				anchor.x + way.x*(radius+d+width/2*math.Abs(way.x)),
				anchor.y + way.y*(radius+d+height/2*math.Abs(way.y)),
			}
			if b := boxAt(centre, width, height); p.free(b) {
				p.take(b)
				return centre, true
			}
		}
	}
	return anchor, false
}

// widths are the widths of letters in thousandths of the size of the type, for
// the common sans-serif faces with the widths of Helvetica.
var widths = map[rune]int{
	' ': 278, '!': 278, '\'': 191, ',': 278, '.': 278, ':': 278, ';': 278, '-': 333, '/': 278, '(': 333, ')': 333,
	'i': 222, 'j': 222, 'l': 222, 't': 278, 'f': 278, 'r': 333, 'I': 278, 'm': 833, 'w': 722, 'M': 833, 'W': 944,
	's': 500, 'c': 500, 'k': 500, 'v': 500, 'x': 500, 'y': 500, 'z': 500, 'J': 500, 'L': 556, 'F': 611, 'T': 611, 'Z': 611,
	'C': 722, 'D': 722, 'H': 722, 'N': 722, 'R': 722, 'U': 722, 'G': 778, 'O': 778, 'Q': 778, '%': 889, '·': 278, '°': 400,
}

const (
	smallWidth, capitalWidth, wideWidth = 556, 667, 1000
	widthSafety                         = 1.06
)

// textWidth estimates the width of words in units.
func textWidth(words string, size float64) float64 {
	total := 0
	for _, r := range words {
		w, known := widths[r]
		switch {
		case known:
		case r > 0x2000:
			w = wideWidth
		case r >= 'A' && r <= 'Z':
			w = capitalWidth
		default:
			w = smallWidth
		}
		total += w
	}
	return float64(total) * size / 1000 * widthSafety
}
