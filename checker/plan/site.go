package plan

import "slices"

// siteThings are the site's elements that others refer to while the site is
// being resolved, each with its entry.
type siteThings struct {
	paths    []*pathThing
	stairs   []*stairThing
	landings []*landingThing
}

// pathThing is a path and what is computed of it when first asked for.
type pathThing struct {
	*Path
	entry *PathEntry
	line  *pathLine
}

// stairThing is a stair and what is computed of it when first asked for.
type stairThing struct {
	*Stair
	entry  *StairEntry
	flight *flight
}

// landingThing is a landing and its entry.
type landingThing struct {
	*Landing
	entry *LandingEntry
}

// declareSite enters the ids of everything on the ground.
func (r *resolver) declareSite() {
	e := r.doc.Site
	if e == nil {
		return
	}
	site := &Site{}
	r.plan.Site = site
	for i := range e.Paths {
		t := &pathThing{Path: &Path{}, entry: &e.Paths[i]}
		r.enter(&t.Element, "path", t.entry.ID, item("paths", i), t)
		site.Paths, r.site.paths = append(site.Paths, t.Path), append(r.site.paths, t)
	}
	for i := range e.Stairs {
		t := &stairThing{Stair: &Stair{}, entry: &e.Stairs[i]}
		r.enter(&t.Element, "stair", t.entry.ID, item("stairs", i), t)
		site.Stairs, r.site.stairs = append(site.Stairs, t.Stair), append(r.site.stairs, t)
	}
	for i := range e.Landings {
		t := &landingThing{Landing: &Landing{}, entry: &e.Landings[i]}
		r.enter(&t.Element, "landing", t.entry.ID, item("landings", i), t)
		site.Landings, r.site.landings = append(site.Landings, t.Landing), append(r.site.landings, t)
	}
	r.declareSurfaces(e, site)
	r.declareUpright(e, site)
	r.declareFlat(e, site)
}

// item is the pointer of one element of the site.
func item(section string, i int) string {
	return sectionSpot("", "/site").at(section, i).pointer
}

// declareList enters the elements of one section of the site: it makes a model
// for each entry, gives it its id and returns the models in file order.
func declareList[E any, M any](r *resolver, section, kind string, entries []E, parts func(*E, *M) (string, *Element)) []*M {
	models := make([]*M, len(entries))
	for i := range entries {
		model := new(M)
		id, element := parts(&entries[i], model)
		r.enter(element, kind, id, item(section, i), model)
		models[i] = model
	}
	return models
}

func (r *resolver) declareSurfaces(e *SiteEntry, site *Site) {
	site.Decks = declareList(r, "decks", "deck", e.Decks, func(e *DeckEntry, m *Deck) (string, *Element) { return e.ID, &m.Element })
	site.Areas = declareList(r, "areas", "area", e.Areas, func(e *AreaEntry, m *Area) (string, *Element) { return e.ID, &m.Element })
}

func (r *resolver) declareUpright(e *SiteEntry, site *Site) {
	leaf := func(e *LeafEntry, m *Leaf) (string, *Element) { return e.ID, &m.Element }
	site.Leaves = append(
		declareList(r, "gates", "gate", e.Gates, leaf),
		declareList(r, "doors", "door", e.Doors, leaf)...)
	screen := func(e *ScreenEntry, m *Screen) (string, *Element) { return e.ID, &m.Element }
	site.Screens = append(declareList(r, "walls", "wall", e.Walls, screen), declareList(r, "fences", "fence", e.Fences, screen)...)
	site.Screens = append(site.Screens, declareList(r, "hedges", "hedge", e.Hedges, screen)...)
	site.Posts = declareList(r, "posts", "post", e.Posts, func(e *PostEntry, m *Post) (string, *Element) { return e.ID, &m.Element })
	site.Trees = declareList(r, "trees", "tree", e.Trees, func(e *TreeEntry, m *Tree) (string, *Element) { return e.ID, &m.Element })
	site.Windows = declareList(r, "windows", "window", e.Windows, func(e *WindowEntry, m *Window) (string, *Element) { return e.ID, &m.Element })
	site.Buildings = declareList(r, "buildings", "building", e.Buildings, func(e *BuildingEntry, m *Building) (string, *Element) { return e.ID, &m.Element })
	for i := range e.Gates {
		r.anchorAt(&site.Leaves[i].Element, "hinge", &e.Gates[i].Hinge)
	}
	for i := range e.Doors {
		r.anchorAt(&site.Leaves[len(e.Gates)+i].Element, "hinge", &e.Doors[i].Hinge)
	}
	for i := range e.Posts {
		r.anchorAt(&site.Posts[i].Element, "at", &e.Posts[i].At)
	}
	for i := range e.Trees {
		r.anchorAt(&site.Trees[i].Element, "at", &e.Trees[i].At)
	}
}

func (r *resolver) declareFlat(e *SiteEntry, site *Site) {
	site.Beds = declareList(r, "beds", "bed", e.Beds, func(e *BedEntry, m *Bed) (string, *Element) { return e.ID, &m.Element })
	site.Lawns = declareList(r, "lawns", "lawn", e.Lawns, func(e *LawnEntry, m *Lawn) (string, *Element) { return e.ID, &m.Element })
	site.Drives = declareList(r, "drives", "drive", e.Drives, func(e *DriveEntry, m *Drive) (string, *Element) { return e.ID, &m.Element })
	site.Water = declareList(r, "water", "water", e.Water, func(e *WaterEntry, m *Water) (string, *Element) { return e.ID, &m.Element })
	site.Services = declareList(r, "services", "service", e.Services, func(e *ServiceEntry, m *Service) (string, *Element) { return e.ID, &m.Element })
}

// resolveSite computes the site: what is walked on first, from which the level
// of the ground follows, then what stands on it.
func (r *resolver) resolveSite() {
	e, site := r.doc.Site, r.plan.Site
	if e == nil {
		return
	}
	r.resolveGround(e.Ground, site)
	for _, t := range r.site.paths {
		r.resolvePath(t)
	}
	for _, t := range r.site.stairs {
		r.resolveStair(t)
	}
	for _, t := range r.site.landings {
		r.resolveLanding(t)
	}
	r.resolveDecks(e, site)
	r.resolveAreas(e, site)
	for _, t := range r.site.stairs {
		r.addTopLevel(t)
	}
	r.addTreads(site)
	r.resolveUpright(e, site)
	r.resolveFlat(e, site)
	r.dropLeftOut(site)
}

// leaveOut keeps a thing out of the site when it cannot be placed. What is in
// the way has been reported; its id stays known.
func (r *resolver) leaveOut(e *Element, out bool) {
	if out {
		r.leftOut[e] = true
	}
}

func (r *resolver) dropLeftOut(site *Site) {
	drop := func(e *Element) bool { return r.leftOut[e] || r.taken(e) }
	site.Paths = slices.DeleteFunc(site.Paths, func(m *Path) bool { return drop(&m.Element) })
	site.Stairs = slices.DeleteFunc(site.Stairs, func(m *Stair) bool { return drop(&m.Element) })
	site.Landings = slices.DeleteFunc(site.Landings, func(m *Landing) bool { return drop(&m.Element) })
	site.Decks = slices.DeleteFunc(site.Decks, func(m *Deck) bool { return drop(&m.Element) })
	site.Areas = slices.DeleteFunc(site.Areas, func(m *Area) bool { return drop(&m.Element) })
	site.Leaves = slices.DeleteFunc(site.Leaves, func(m *Leaf) bool { return drop(&m.Element) })
	site.Screens = slices.DeleteFunc(site.Screens, func(m *Screen) bool { return drop(&m.Element) })
	site.Posts = slices.DeleteFunc(site.Posts, func(m *Post) bool { return drop(&m.Element) })
	site.Trees = slices.DeleteFunc(site.Trees, func(m *Tree) bool { return drop(&m.Element) })
	site.Windows = slices.DeleteFunc(site.Windows, func(m *Window) bool { return drop(&m.Element) })
	site.Buildings = slices.DeleteFunc(site.Buildings, func(m *Building) bool { return drop(&m.Element) })
	site.Beds = slices.DeleteFunc(site.Beds, func(m *Bed) bool { return drop(&m.Element) })
	site.Lawns = slices.DeleteFunc(site.Lawns, func(m *Lawn) bool { return drop(&m.Element) })
	site.Drives = slices.DeleteFunc(site.Drives, func(m *Drive) bool { return drop(&m.Element) })
	site.Water = slices.DeleteFunc(site.Water, func(m *Water) bool { return drop(&m.Element) })
	site.Services = slices.DeleteFunc(site.Services, func(m *Service) bool { return drop(&m.Element) })
}

func (r *resolver) resolveGround(g *GroundEntry, site *Site) {
	if g == nil {
		return
	}
	s := sectionSpot("site", "/site/ground")
	site.Soil, site.FreeDraining = g.Soil, g.FreeDraining
	site.GroundC = r.value(s, "temperature", g.Temperature, Temperature)
	site.SnowM = r.extent(s, "snow_depth", g.SnowDepth)
	site.FloodM = r.length(s, "flood_level", g.FloodLevel)
}
