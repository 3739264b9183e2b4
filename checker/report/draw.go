package report

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

// Layers of a drawing.
const (
	// LayerPlan is the site and what is installed.
	LayerPlan = "plan"
	// LayerLight is the light on what people walk on.
	LayerLight = "light"
	// LayerVolts is the volts at the lamps and the drop along the cables.
	LayerVolts = "volts"
	// LayerReadings is the last meter readings beside what was computed.
	LayerReadings = "readings"
	// LayerFindings is a numbered mark for each finding.
	LayerFindings = "findings"
)

// Layers lists the layers from the ground up.
func Layers() []string {
	return []string{LayerPlan, LayerLight, LayerVolts, LayerReadings, LayerFindings}
}

// DrawOptions say what to draw.
type DrawOptions struct {
	// Layers are those to draw; none means all but volts. The plan is always
	// drawn.
	Layers []string
	// Scene is the scene whose light is shown; empty means the first in use.
	Scene string
	// Light is the light on the ground; nil leaves it out.
	Light *facts.LightMap
	// Today and Caution are printed below the drawing.
	Today, Caution string
}

// ErrNothingPlaced says that a plan gives no positions, so that nothing can be
// drawn.
var ErrNothingPlaced = errors.New("the plan gives no positions, so nothing can be drawn")

// Draw writes a plan as an SVG document to scale, plan north up. The same plan
// gives the same bytes. The error is [ErrNothingPlaced] for a plan that places
// nothing.
func Draw(w io.Writer, p *Plan, o DrawOptions) error {
	if p.Model == nil || p.Facts == nil {
		return fmt.Errorf("draw %s: the plan could not be read", p.Path)
	}
	if o.Scene != "" && o.Light != nil && !slices.Contains(o.Light.Scenes, o.Scene) {
		return fmt.Errorf("draw %s: no scene in use is called %q", p.Path, o.Scene)
	}
	d, err := newDrawing(p, o)
	if err != nil {
		return err
	}
	d.whole()
	if _, err := io.WriteString(w, d.b.String()); err != nil {
		return fmt.Errorf("write the drawing: %w", err)
	}
	return nil
}

// drawing is one drawing under way.
type drawing struct {
	svg
	frame
	result  *Plan
	plan    *plan.Plan
	facts   *facts.Document
	options DrawOptions
	choice  choice
	room    *placer
	inPage  bool   // part of a page: marks are links, layers can be switched
	prefix  string // of ids, when a page has several drawings
	legend  []legendEntry
	anchors map[string]r2.Vec // of elements, by id
	lamps   map[string]*facts.Fixture
	scenes  []int // indices of the scenes whose light is drawn
	visits  []visit
	tagged  map[int]bool              // readings that have a tag, by number
	flagged map[*facts.Suspect]string // ids of the flags of suspects, in a page
}

const mapMargin = 10.0

func newDrawing(p *Plan, o DrawOptions) (*drawing, error) {
	low, high, ok := extent(p.Model)
	if !ok {
		return nil, ErrNothingPlaced
	}
	d := &drawing{result: p, plan: p.Model, facts: p.Facts, options: o, visits: visits(p.Facts, p.Model), tagged: map[int]bool{}, flagged: map[*facts.Suspect]string{}}
	size := r2.Sub(high, low)
	d.choice = chooseSheet(size, p.Model.Units)
	d.unitsPerM = 1000 * unitsPerMM / d.choice.scale
	if narrow := leastMapUnits/d.unitsPerM - size.X; narrow > 0 {
		low.X, high.X = low.X-narrow/2, high.X+narrow/2
		size.X += narrow
	}
	d.low, d.high = low, high
	d.left, d.top = mapMargin, mapMargin
	d.width, d.height = size.X*d.unitsPerM, size.Y*d.unitsPerM
	d.room = newPlacer(&d.frame)
	d.anchors = anchorsOf(p.Model)
	d.lamps = make(map[string]*facts.Fixture, len(p.Facts.Fixtures))
	for i := range p.Facts.Fixtures {
		d.lamps[p.Facts.Fixtures[i].ID] = &p.Facts.Fixtures[i]
	}
	if o.Light != nil {
		for i, scene := range o.Light.Scenes {
			if o.Scene == "" || o.Scene == scene {
				d.scenes = append(d.scenes, i)
			}
		}
	}
	return d, nil
}

func (d *drawing) wants(layer string) bool {
	switch {
	case d.inPage || layer == LayerPlan:
		return true
	case len(d.options.Layers) == 0:
		return layer != LayerVolts
	}
	return slices.Contains(d.options.Layers, layer)
}

// titleUnits is the height of the lines above the map of a drawing that stands
// alone.
const titleUnits = 38.0

// whole writes a document of its own.
func (d *drawing) whole() {
	d.top += titleUnits
	if len(d.scenes) > 1 {
		d.scenes = d.scenes[:1]
	}
	d.content()
	height := d.furniture()
	content := d.b.String()
	d.svg = svg{}
	width := d.width + 2*mapMargin
	d.b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	d.open("svg", "xmlns", "http://www.w3.org/2000/svg", "class", "d", "role", "img", "aria-labelledby", "d-title d-desc",
		"width", millimetres(width), "height", millimetres(height), "viewBox", "0 0 "+decimal(width)+" "+decimal(height))
	d.words("title", d.heading(), "id", "d-title")
	d.words("desc", d.description(), "id", "d-desc")
	d.b.WriteString("<style>" + drawingStyle() + "</style>\n")
	d.tag("rect", "class", "paper", "width", width, "height", height)
	d.text(mapMargin, 24, "title", cut(d.heading(), 90))
	d.text(mapMargin, 38, "faint", cut(fmt.Sprintf("%s · stage %s · %s", d.result.Path, d.plan.Stage, d.options.Today), 120))
	d.b.WriteString(content)
	d.shut("svg")
}

func millimetres(units float64) string { return decimal(units/unitsPerMM) + "mm" }

func (d *drawing) heading() string {
	if d.plan.Title == "" {
		return d.result.Path
	}
	return d.plan.Title
}

// description says in words what the drawing shows.
func (d *drawing) description() string {
	legs := 0
	for _, run := range d.plan.Runs {
		legs += len(run.Legs)
	}
	return fmt.Sprintf("Plan drawing, north up, scale %s: %s, %s, %s, %s.", d.choice.words, counted(len(d.plan.Fixtures), "fixture"),
		counted(len(d.plan.Transformers), "transformer"), counted(legs, "leg")+" of cable", counted(len(d.result.Findings), "finding"))
}

// content draws the map from the ground up.
func (d *drawing) content() {
	d.open("defs")
	d.open("clipPath", "id", d.prefix+"map")
	d.tag("rect", "x", d.left, "y", d.top, "width", d.width, "height", d.height)
	d.shut("clipPath")
	d.defineSymbols()
	d.clipSurfaces()
	d.shut("defs")
	d.tag("rect", "class", "paper", "x", d.left, "y", d.top, "width", d.width, "height", d.height)
	d.open("g", "clip-path", "url(#"+d.prefix+"map)")
	d.ground()
	if d.wants(LayerLight) {
		d.lightLayer()
	}
	d.standing()
	d.cables()
	if d.wants(LayerVolts) {
		d.dropLayer()
	}
	d.devices()
	d.fixtures()
	if d.wants(LayerReadings) {
		d.readingPlaces()
	}
	d.shut("g")
	d.labels()
	if d.wants(LayerFindings) {
		d.findings()
	}
	if d.wants(LayerReadings) {
		d.readingTags()
	}
	if d.wants(LayerVolts) {
		d.voltTags()
	}
	if d.wants(LayerLight) {
		d.luxTags()
	}
	d.names()
	d.tag("rect", "class", "frame", "x", d.left, "y", d.top, "width", d.width, "height", d.height)
}
