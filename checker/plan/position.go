package plan

import "gonum.org/v1/gonum/spatial/r2"

// anchor is an element that stands at one point, so that tapes can be pulled
// from it.
type anchor struct {
	spot     spot
	position *Position // nil when the plan gives none
	array    *arrayOf  // for a fixture of an array
	at       *r2.Vec
}

// placed says whether the plan gives the anchor a place.
func (a *anchor) placed() bool { return a.array != nil || a.position != nil && a.position.Set }

// anchorAt enters an element's position under its id.
func (r *resolver) anchorAt(e *Element, key string, p *Position) {
	if e.ID != "" && r.anchors[e.ID] == nil && r.plan.Elements[e.ID] == e {
		r.anchors[e.ID] = &anchor{spot: spotOf(e).key(key), position: p}
	}
}

// anchored returns the point of an element, nil when it has none.
func (r *resolver) anchored(a *anchor) *r2.Vec {
	if a.array != nil {
		r.expand(a.array)
	} else if a.position != nil {
		r.once(a.spot.element, a.spot, func() { a.at = r.locate(a.position, a.spot) })
	}
	return a.at
}

// pointOf returns the position of an element that was entered with anchorAt;
// for one that lost its id to another, it is computed on the spot.
func (r *resolver) pointOf(e *Element, key string, p *Position) *r2.Vec {
	if a := r.anchors[e.ID]; a != nil && a.position == p {
		return r.anchored(a)
	}
	return r.locate(p, spotOf(e).key(key))
}

// locate computes a position. It is nil when the plan gives none, or when it
// cannot be computed, which is reported where it comes from.
func (r *resolver) locate(p *Position, s spot) *r2.Vec {
	switch {
	case p == nil || !p.Set:
		return nil
	case p.Tapes != nil:
		return r.fromTapes(p, s)
	case p.Along != "":
		return r.alongPath(p, s)
	case p.Of != "":
		return r.onTread(p, s)
	default:
		return r.coordinates(p.X, p.Y, s)
	}
}

func (r *resolver) coordinates(x, y Quantity, s spot) *r2.Vec {
	px, py := r.length(s, "0", x), r.length(s, "1", y)
	if px == nil || py == nil {
		return nil
	}
	return &r2.Vec{X: *px, Y: *py}
}

// points computes every position of a list; nil when one of them has none.
func (r *resolver) points(s spot, list []Position) []r2.Vec {
	points := make([]r2.Vec, 0, len(list))
	for i := range list {
		if p := r.locate(&list[i], s.index(i)); p != nil {
			points = append(points, *p)
		}
	}
	if len(points) < len(list) {
		return nil
	}
	return points
}

// alongPath is the point at a station of a path, beside it.
func (r *resolver) alongPath(p *Position, s spot) *r2.Vec {
	line := r.lineOf(s.key("along"), p.Along)
	station := r.extent(s, "station", p.At)
	offset := r.length(s, "offset", p.Off)
	if line == nil || station == nil {
		return nil
	}
	if *station > line.length()+levelSlackM {
		r.conflict(s.key("station"), "station %s is beyond the end of %q, which is %s long",
			r.text(*station), p.Along, r.text(line.length()))
		return nil
	}
	return r.beside(line, *station, offset, p.Side, s)
}

// beside is the point at a station of a line, offset from the path's edge on a
// side. Without a side it is on the centreline.
func (r *resolver) beside(line *pathLine, station float64, offset *float64, side string, s spot) *r2.Vec {
	if side == "" {
		if offset != nil {
			r.conflictOnKey(s.key("offset"), "an offset needs a side, left or right")
			return nil
		}
		at := line.point(station, 0)
		return &at
	}
	away := line.widthM/2 + or(offset, 0)
	if side == "right" {
		away = -away
	}
	at := line.point(station, away)
	return &at
}

// onTread is a point on a tread of a stair: in the middle of its going, across
// from the left edge going up. The tread after the last is the top level.
func (r *resolver) onTread(p *Position, s spot) *r2.Vec {
	f := r.flightOf(s.key("of"), p.Of)
	if f == nil {
		return nil
	}
	if p.Tread < 1 || p.Tread > f.risers {
		r.dangling(s.key("tread"), "there is no tread %d; %q has %s, and %d is its top level", p.Tread, p.Of, treadCount(f.risers-1), f.risers)
		return nil
	}
	outline := f.tread(p.Tread)
	left := r2.Scale(0.5, r2.Add(outline[0], outline[3]))
	right := r2.Scale(0.5, r2.Add(outline[1], outline[2]))
	width := r2.Norm(r2.Sub(right, left))
	across := r.extent(s, "across", p.Place)
	if across == nil || width < sameM {
		at := r2.Scale(0.5, r2.Add(left, right))
		return &at
	}
	if *across > width+levelSlackM {
		r.conflict(s.key("across"), "%s is beyond the far edge of the tread, which is %s wide", r.text(*across), r.text(width))
		return nil
	}
	at := r2.Add(left, r2.Scale(*across/width, r2.Sub(right, left)))
	return &at
}
