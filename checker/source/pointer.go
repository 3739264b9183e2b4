package source

import (
	"fmt"
	"strconv"
	"strings"
)

// Pointer makes a JSON Pointer (RFC 6901) of tokens: names as text, indices as
// whole numbers. Anything else is written as fmt prints it. No tokens make "",
// the whole document.
func Pointer(tokens ...any) string { return Append("", tokens...) }

// Append adds tokens to a pointer; see [Pointer].
func Append(pointer string, tokens ...any) string {
	var b strings.Builder
	b.WriteString(pointer)
	for _, token := range tokens {
		b.WriteByte('/')
		switch t := token.(type) {
		case string:
			b.WriteString(Escape(t))
		case int:
			b.WriteString(strconv.Itoa(t))
		default:
			b.WriteString(Escape(fmt.Sprint(t)))
		}
	}
	return b.String()
}

// Escape writes a name as one token of a pointer: ~ as ~0 and / as ~1.
func Escape(name string) string {
	if !strings.ContainsAny(name, "~/") {
		return name
	}
	return escapes.Replace(name)
}

var (
	escapes   = strings.NewReplacer("~", "~0", "/", "~1")
	unescapes = strings.NewReplacer("~1", "/", "~0", "~")
)

// Unescape reads one token of a pointer.
func Unescape(token string) string {
	if !strings.Contains(token, "~") {
		return token
	}
	return unescapes.Replace(token)
}

// Tokens splits a pointer into its tokens, unescaped. The empty pointer has
// none. A pointer that does not begin with / is read as if it did.
func Tokens(pointer string) []string {
	if pointer == "" {
		return nil
	}
	tokens := strings.Split(strings.TrimPrefix(pointer, "/"), "/")
	for i, token := range tokens {
		tokens[i] = Unescape(token)
	}
	return tokens
}

// Parent cuts the last token off a pointer; the parent of "" is "".
func Parent(pointer string) string {
	return pointer[:max(0, strings.LastIndexByte(pointer, '/'))]
}
