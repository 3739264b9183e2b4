package facts

import (
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// CoverNotStated stands for the cover of a trench whose legs do not say how
// deep they lie.
const CoverNotStated = -1.0

// Trenches is what has to be dug for a plan: every leg in the ground whose way
// is known, with what several legs share counted once; see [site.Ground.Trenches].
// Legs without a route are left out.
func Trenches(p *plan.Plan) []site.TrenchPiece {
	var legs []site.TrenchLeg
	for _, run := range p.Runs {
		for _, leg := range run.Legs {
			if !inGround(leg.Method) || len(leg.Route) < 2 {
				continue
			}
			cover := CoverNotStated
			if leg.CoverM != nil {
				cover = *leg.CoverM
			}
			legs = append(legs, site.TrenchLeg{ID: leg.ID, Route: leg.Route, CoverM: cover})
		}
	}
	return newJoin(Input{Plan: p}).newGround().surfaces.Trenches(legs, site.SameTrenchM)
}

// InGround reports whether a leg of a method has to be dug in.
func InGround(method string) bool { return inGround(method) }
