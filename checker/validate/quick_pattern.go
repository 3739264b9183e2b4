package validate

import (
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// textPattern is an expression that texts must match. Most expressions of plans
// are those of a name, which are matched without a library: to compile such a one
// takes longer than to look at a whole plan. Others are compiled when first wanted.
type textPattern struct {
	name    *namePattern
	compile func() *regexp.Regexp
}

func newPattern(text string) *textPattern {
	if name := newNamePattern(text); name != nil {
		return &textPattern{name: name}
	}
	return &textPattern{compile: sync.OnceValue(func() *regexp.Regexp {
		expression, err := regexp.Compile(text)
		if err != nil {
			return nil
		}
		return expression
	})}
}

func (p *textPattern) matches(s string) answer {
	if p.name != nil {
		return yes(p.name.matches(s))
	}
	expression := p.compile()
	if expression == nil {
		return unsure
	}
	return yes(expression.MatchString(s))
}

// namePattern is an expression of the form ^[first][rest]{0,most}$: one character,
// and up to so many more.
type namePattern struct {
	first, rest [128]bool // which ASCII characters are allowed
	most        int
}

// newNamePattern reads an expression; nil when it is not of that form.
func newNamePattern(text string) *namePattern {
	text, begins := strings.CutPrefix(text, "^[")
	text, ends := strings.CutSuffix(text, "}$")
	first, text, two := strings.Cut(text, "][")
	rest, count, counted := strings.Cut(text, "]{0,")
	most, err := strconv.Atoi(count)
	if !begins || !ends || !two || !counted || err != nil || most < 0 || most > 1000 || strconv.Itoa(most) != count {
		return nil
	}
	p := &namePattern{most: most}
	if !allow(&p.first, first) || !allow(&p.rest, rest) {
		return nil
	}
	return p
}

// allow reads what stands between brackets: characters, and ranges of them. It
// fails on what has another meaning there.
func allow(set *[128]bool, class string) bool {
	if class == "" || strings.ContainsAny(class, `\[]^&~`) {
		return false
	}
	for i := 0; i < len(class); i++ {
		low, high := class[i], class[i]
		if i+2 < len(class) && class[i+1] == '-' {
			high = class[i+2]
			i += 2
		}
		if high >= 128 || low > high {
			return false
		}
		for c := low; c <= high; c++ {
			set[c] = true
		}
	}
	return true
}

func (p *namePattern) matches(s string) bool {
	if s == "" || len(s)-1 > p.most || s[0] >= 128 || !p.first[s[0]] {
		return false
	}
	for i := 1; i < len(s); i++ {
		if s[i] >= 128 || !p.rest[s[i]] {
			return false
		}
	}
	return true
}
