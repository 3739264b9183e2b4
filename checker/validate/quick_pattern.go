package validate

import (
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// textPattern is an expression that texts must match, made ready when it is first
// wanted. To compile the expressions of the plan's schema with the library takes
// longer than to read a plan, so that the plain ones, which are nearly all, are
// matched here.
type textPattern func() matcher

// matcher is an expression that is ready.
type matcher struct {
	plain   []sequence     // the alternatives; nil when the expression is not plain
	library *regexp.Regexp // nil when it is plain, and when it is no expression
}

// sequence is what stands one after the other in an expression.
type sequence []piece

// piece is a character, one of a set, or one of some sequences, so many times.
type piece struct {
	char        byte
	set         *[128]bool // of ASCII characters
	group       []sequence
	least, most int
}

// mostPlain is how long a text may be that is matched here: to match one goes as deep
// as it is long. The schema library looks at longer ones.
const mostPlain = 10_000

// manyTimes is how often a piece may stand that may stand any number of times.
const manyTimes = 1 << 30

func newPattern(text string) textPattern {
	return sync.OnceValue(func() matcher {
		if plain := readPattern(text); plain != nil {
			return matcher{plain: plain}
		}
		expression, err := regexp.Compile(text)
		if err != nil {
			return matcher{}
		}
		return matcher{library: expression}
	})
}

func (p textPattern) matches(s string) answer {
	m := p()
	switch {
	case len(s) > mostPlain:
		return unsure
	case m.plain != nil:
		return yes(oneOf(m.plain, s, func(rest string) bool { return rest == "" }))
	case m.library != nil:
		return yes(m.library.MatchString(s))
	}
	return unsure
}

// oneOf reports whether s begins with one of the sequences, and then says what
// comes after it.
func oneOf(sequences []sequence, s string, then func(string) bool) bool {
	for _, q := range sequences {
		if q.begins(s, then) {
			return true
		}
	}
	return false
}

// begins reports whether s begins with the sequence, and then says what comes
// after it: as much as can be is tried first.
func (q sequence) begins(s string, then func(string) bool) bool {
	if len(q) == 0 {
		return then(s)
	}
	p, next := &q[0], q[1:]
	if p.group != nil {
		return p.groups(s, 0, func(rest string) bool { return next.begins(rest, then) })
	}
	n := 0
	for n < len(s) && n < p.most && p.takes(s[n]) {
		n++
	}
	for ; n >= p.least; n-- {
		if next.begins(s[n:], then) {
			return true
		}
	}
	return false
}

// takes reports whether a piece that is no group takes a character.
func (p *piece) takes(c byte) bool {
	if p.set == nil {
		return c == p.char
	}
	return c < 128 && p.set[c]
}

// groups tries the group of a piece again and again; it stood there so many times
// before.
func (p *piece) groups(s string, times int, then func(string) bool) bool {
	again := func(rest string) bool { return len(rest) < len(s) && p.groups(rest, times+1, then) }
	if times < p.most && oneOf(p.group, s, again) {
		return true
	}
	return times >= p.least && then(s)
}

// readPattern reads an expression whose alternatives are each about the whole text,
// ^…$; nil when there is anything in it that is not plain.
func readPattern(text string) []sequence {
	var all []sequence
	for {
		rest, begins := strings.CutPrefix(text, "^")
		q, rest, ok := readSequence(rest)
		rest, ends := strings.CutPrefix(rest, "$")
		if !begins || !ok || !ends {
			return nil
		}
		all = append(all, q)
		if rest == "" {
			return all
		}
		if text, ok = strings.CutPrefix(rest, "|"); !ok {
			return nil
		}
	}
}

// readSequence reads pieces up to what ends them, which it returns with the rest.
func readSequence(text string) (q sequence, rest string, ok bool) {
	for text != "" && strings.IndexByte("$|)", text[0]) < 0 {
		p := piece{least: 1, most: 1}
		switch c := text[0]; {
		case c == '(':
			p.group, text, ok = readGroup(text[1:])
		case c == '[':
			class, after, closed := strings.Cut(text[1:], "]")
			p.set = &[128]bool{}
			text, ok = after, closed && allow(p.set, class)
		case c == '\\' && len(text) > 1 && strings.IndexByte(`.+*?()[]{}|^$/-`, text[1]) >= 0:
			p.char, text, ok = text[1], text[2:], true
		default:
			p.char, text, ok = c, text[1:], c >= ' ' && c <= '~' && strings.IndexByte(`\.*+?{}]^`, c) < 0
		}
		if ok {
			text, ok = p.readTimes(text)
		}
		if !ok {
			return nil, "", false
		}
		q = append(q, p)
	}
	return q, text, true
}

// readGroup reads alternatives up to the closing bracket.
func readGroup(text string) (group []sequence, rest string, ok bool) {
	for {
		q, after, ok := readSequence(text)
		if !ok || after == "" || len(q) == 0 {
			return nil, "", false
		}
		group = append(group, q)
		switch text = after[1:]; after[0] {
		case ')':
			return group, text, true
		case '$':
			return nil, "", false
		}
	}
}

// readTimes reads how often a piece may stand: once when nothing says so.
func (p *piece) readTimes(text string) (rest string, ok bool) {
	if text == "" {
		return text, true
	}
	switch text[0] {
	case '?':
		p.least = 0
	case '*':
		p.least, p.most = 0, manyTimes
	case '+':
		p.most = manyTimes
	case '{':
		count, after, closed := strings.Cut(text[1:], "}")
		least, most, both := strings.Cut(count, ",")
		if !both {
			most = least
		}
		var good bool
		p.least, good = times(least)
		p.most, ok = times(most)
		return after, closed && good && ok && p.least <= p.most
	default:
		return text, true
	}
	return text[1:], true
}

// times reads a count that the library takes as well.
func times(digits string) (int, bool) {
	n, err := strconv.Atoi(digits)
	return n, err == nil && n >= 0 && n <= 1000 && strconv.Itoa(n) == digits
}

// allow reads what stands between brackets: characters, and ranges of them. It
// fails on what has another meaning there.
func allow(set *[128]bool, class string) bool {
	if class == "" || strings.ContainsAny(class, `\[^&~`) {
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
