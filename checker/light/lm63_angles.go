package light

// checkVertical holds the vertical angles to the ranges of LM-63. It is called
// right after they are read, so that errors point at the last of them.
func checkVertical(p *Photometry, n *numberReader) error {
	first, last := p.VerticalDeg[0], p.VerticalDeg[len(p.VerticalDeg)-1]
	if p.Type == TypeC {
		if (first == 0 && (last == 90 || last == 180)) || (first == 90 && last == 180) {
			return nil
		}
		return n.fail("the vertical angles run from %s to %s; for type C expected 0 to 90, 90 to 180 or 0 to 180", trim(first), trim(last))
	}
	if (first == 0 || first == -90) && last == 90 {
		return nil
	}
	return n.fail("the vertical angles run from %s to %s; for type %s expected -90 to 90 or 0 to 90", trim(first), trim(last), p.Type)
}

// checkHorizontal holds the horizontal angles to the ranges of LM-63.
func checkHorizontal(p *Photometry, n *numberReader) error {
	first, last := p.HorizontalDeg[0], p.HorizontalDeg[len(p.HorizontalDeg)-1]
	if p.Type != TypeC {
		if (first == 0 || first == -90) && last == 90 {
			return nil
		}
		return n.fail("the horizontal angles run from %s to %s; for type %s expected -90 to 90 or 0 to 90", trim(first), trim(last), p.Type)
	}
	switch {
	case first == 0 && (last == 0 || last == 90 || last == 180):
		return nil
	case first == 0 && last > 180 && last <= 360:
		return checkGap(p, n, last)
	case first == 90 && last == 270:
		return nil
	}
	return n.fail("the horizontal angles run from %s to %s; for type C expected 0 alone, 0 to 90, 0 to 180, "+
		"0 to 360 (or the last angle before 360), or 90 to 270", trim(first), trim(last))
}

// checkGap refuses a round that stops long before it closes: between its last
// angle and 360 there would be nothing but a guess.
func checkGap(p *Photometry, n *numberReader, last float64) error {
	widest := 0.0
	for i := 1; i < len(p.HorizontalDeg); i++ {
		widest = max(widest, p.HorizontalDeg[i]-p.HorizontalDeg[i-1])
	}
	if 360-last > 1.5*widest {
		return n.fail("the horizontal angles stop at %s, %s short of 360, though no step is wider than %s; "+
			"expected a whole round", trim(last), trim(360-last), trim(widest))
	}
	return nil
}
