package source

import (
	"fmt"
	"strings"
	"testing"
)

// damaged are files that cannot be read, and what is said of each: place,
// pointer and message. What is valid JSON is decided by RFC 8259; where the
// place should be is our own judgement: on the thing that must be changed.
var damaged = []struct {
	text, want string
}{
	{"", "1:1-1:1 root: the file is empty; one JSON object, { … }, is expected"},
	{"  \r\n\t ", "1:1-1:1 root: the file is empty; one JSON object, { … }, is expected"},
	{"\ufeff{}", "1:1-1:1 root: the file begins with a byte-order mark; save it as UTF-8 without one"},
	{"\xff\xfe{\x00}\x00", "1:1-1:1 root: the file is in UTF-16; save it as UTF-8"},
	{"{\x00}\x00", "1:1-1:1 root: the file is in UTF-16; save it as UTF-8"},
	{"\xfe\xff\x00{", "1:1-1:1 root: the file is in UTF-16; save it as UTF-8"},
	{"{\"a\": \"caf\xe9\"}", "1:11-1:12 root: the byte 0xE9 here is not valid UTF-8; save the file as UTF-8"},
	{"{\"a\": 1}\xc3", "1:9-1:10 root: the byte 0xC3 here is not valid UTF-8; save the file as UTF-8"},
	{"{", "1:2-1:2 root: the file ends too early: the object that begins at 1:1 has no closing }; the end of the file may be missing"},
	{"{\"runs\": [\n  {\"id\": \"R1\"", "2:14-2:14 /runs/0/id: the file ends too early: the object that begins at 2:3 (and 2 more around it) has no closing }; the end of the file may be missing"},
	{"{\"runs\": [\n  {\"id\": \"R1\"},\n\n", "2:16-2:16 /runs/0: the file ends too early: the list that begins at 1:10 (and 1 more around it) has no closing ]; the end of the file may be missing"},
	{`{"a":`, "1:6-1:6 /a: the file ends too early: the object that begins at 1:1 has no closing }; the end of the file may be missing"},
	{`{"a"`, "1:5-1:5 /a: the file ends too early: the object that begins at 1:1 has no closing }; the end of the file may be missing"},
	{`{"title": "Tern Cot`, "1:11-1:20 /title: this text has no closing double quote; the end of the file may be missing"},
	{`{"a": "x\`, "1:7-1:10 /a: this text has no closing double quote; the end of the file may be missing"},
	{`{"a": tr`, "1:9-1:9 /a: the file ends too early: the object that begins at 1:1 has no closing }; the end of the file may be missing"},
	{`{"a": -`, "1:8-1:8 /a: the file ends too early: the object that begins at 1:1 has no closing }; the end of the file may be missing"},
	{"{\"cover\": \"6 in\n\", \"x\": 1}", "1:11-1:16 /cover: this text has no closing double quote on its line; text may not run over the end of a line (write \\n inside it)"},
	{"{\"cover\": \"6 in,\n \"x\": 1}", "1:11-1:17 /cover: this text has no closing double quote on its line; text may not run over the end of a line (write \\n inside it)"},
	{`{"a": 1,}`, "1:8-1:9 /a: the comma before the closing } must go: nothing follows it"},
	{"[1, 2, ]", "1:6-1:7 /1: the comma before the closing ] must go: nothing follows it"},
	{`{"a": 1,, "b": 2}`, "1:9-1:10 /a: there is a comma too many here; remove it"},
	{"[,1]", "1:2-1:3 root: there is a comma too many here; remove it"},
	{"{,}", "1:2-1:3 root: there is a comma too many here; remove it"},
	{`{"a": }`, "1:7-1:8 /a: a value is missing before this }"},
	{`{"a": , "b": 1}`, "1:7-1:8 /a: a value is missing before this ,"},
	{`{"a": ]`, "1:7-1:8 /a: found ], but the object that begins at 1:1 is still open and closes with }"},
	{`{"a": [1, 2}`, "1:12-1:13 /a/1: found }, but the list that begins at 1:7 is still open and closes with ]"},
	{`{"a": {"b": 1]}`, "1:14-1:15 /a/b: found ], but the object that begins at 1:7 is still open and closes with }"},
	{"[1, 2}}", "1:6-1:7 /1: found }, but the list that begins at 1:1 is still open and closes with ]"},
	{`{"a": 1 "b": 2}`, "1:8-1:8 /a: a comma is missing here"},
	{"{\n  \"a\": 1\n  \"b\": 2\n}", "2:9-2:9 /a: a comma is missing here"},
	{"[1 2]", "1:3-1:3 /0: a comma is missing here"},
	{`["a" "b"]`, "1:5-1:5 /0: a comma is missing here"},
	{"[{} {}]", "1:4-1:4 /0: a comma is missing here"},
	{`{"a" 1}`, `1:5-1:6 /a: the name "a" needs a colon and a value after it`},
	{`{"a"= 1}`, `1:5-1:6 /a: a colon stands between a name and its value: write "a": …`},
	{`{"a: 1}`, "1:2-1:8 root: this text has no closing double quote; the end of the file may be missing"},
	{`{"a": "b": 1}`, "1:10-1:11 /a: there is a colon too many here; a comma or a double quote may be missing before it"},
	{`["a": 1]`, "1:5-1:6 /0: a name with a value belongs in an object, but the list that begins at 1:1 is still open"},
	{`{"a": 1; "b": 2}`, "1:8-1:9 /a: entries are separated by a comma, not a semicolon"},
	{`{"cover: "6 in"}`, `1:2-1:11 /cover: : the name "cover: " has no colon after it; a double quote may be missing or too many near here`},
	{`{"a""b": 1}`, `1:5-1:6 /a: the name "a" needs a colon and a value after it`},
	{"{: 1}", "1:2-1:3 root: the name before this colon is missing"},
	{`{"a":: 1}`, "1:6-1:7 /a: there is a colon too many here; remove it"},
	{`{"a": 18 in}`, `1:7-1:12 /a: a value with a unit stands in double quotes: write "18 in"`},
	{`{"a": 18in}`, `1:7-1:11 /a: a value with a unit stands in double quotes: write "18 in"`},
	{`{"a": 6"}`, `1:7-1:9 /a: a length with a unit stands in double quotes: write "6 in"`},
	{`{"a": 6'}`, `1:7-1:9 /a: a length with a unit stands in double quotes: write "6 ft"`},
	{`{"a": 5 %}`, `1:7-1:10 /a: a value with a unit stands in double quotes: write "5 %"`},
	{`{"a": 5°}`, `1:7-1:9 /a: a value with a unit stands in double quotes: write "5 °"`},
	{`{"a": 1,5}`, "1:8-1:10 /a: a name in double quotes is expected after the comma; in a number, write the decimal point as a dot and leave out any comma"},
	{`{"a": 01}`, "1:7-1:9 /a: 01 is not a number as JSON writes it; leave out the zero in front"},
	{`{"a": -01}`, "1:7-1:10 /a: -01 is not a number as JSON writes it; leave out the zero in front"},
	{`{"a": 0x1F}`, "1:7-1:11 /a: 0x1F is not a number as JSON writes it; write it in decimal digits"},
	{`{"a": 1_000}`, "1:7-1:12 /a: 1_000 is not a number as JSON writes it; write the digits without a separator"},
	{`{"a": +1}`, "1:7-1:9 /a: +1 is not a number as JSON writes it; leave out the plus sign"},
	{`{"a": .5}`, "1:7-1:9 /a: .5 is not a number as JSON writes it; write a digit before the point, 0.5"},
	{`{"a": -.5}`, "1:7-1:10 /a: -.5 is not a number as JSON writes it; write a digit before the point, 0.5"},
	{`{"a": 5.}`, "1:7-1:9 /a: 5. is not a number as JSON writes it; write a digit after the point, or leave the point out"},
	{`{"a": 1.e3}`, "1:7-1:11 /a: 1.e3 is not a number as JSON writes it; write a digit after the point"},
	{`{"a": 1e}`, "1:7-1:9 /a: 1e is not a number as JSON writes it; write digits, with a dot for the decimal point"},
	{`{"a": 1e+}`, "1:7-1:10 /a: 1e+ is not a number as JSON writes it; write digits, with a dot for the decimal point"},
	{`{"a": --1}`, "1:7-1:10 /a: --1 is not a number as JSON writes it; write digits, with a dot for the decimal point"},
	{`{"a": 1-2}`, "1:7-1:10 /a: 1-2 is not a number as JSON writes it; write digits, with a dot for the decimal point"},
	{`{"a": 1.2.3}`, "1:7-1:12 /a: 1.2.3 is not a number as JSON writes it; write digits, with a dot for the decimal point"},
	{`[1"x"]`, "1:3-1:3 /0: a comma is missing here"},
	{`{"a": NaN}`, "1:7-1:10 /a: NaN is not a number that JSON can hold; leave the field out when the value is not known"},
	{`{"a": -Infinity}`, "1:7-1:16 /a: -Infinity is not a number that JSON can hold; leave the field out when the value is not known"},
	{`{"a": Infinity}`, "1:7-1:15 /a: Infinity is not a number that JSON can hold; leave the field out when the value is not known"},
	{`{"a": None}`, "1:7-1:11 /a: None is not a value; leave the field out when the value is not known"},
	{`{"a": undefined}`, "1:7-1:16 /a: undefined is not a value; leave the field out when the value is not known"},
	{`{"a": True}`, "1:7-1:11 /a: write true, in small letters and without quotes, not True"},
	{`{"a": FALSE}`, "1:7-1:12 /a: write false, in small letters and without quotes, not FALSE"},
	{`{"a": yes}`, "1:7-1:10 /a: write true, in small letters and without quotes, not yes"},
	{`{"a": buried}`, `1:7-1:13 /a: text stands in double quotes: write "buried"`},
	{`{"a": truex}`, `1:7-1:12 /a: text stands in double quotes: write "truex"`},
	{`{"a": true false}`, "1:11-1:11 /a: a comma is missing here"},
	{"{a: 1}", `1:2-1:3 root: names stand in double quotes: write "a"`},
	{"{'a': 1}", "1:2-1:3 root: names and text stand in double quotes, not in '"},
	{`{"a": 'b'}`, "1:7-1:8 /a: names and text stand in double quotes, not in '"},
	{`{"a": “b”}`, `1:7-1:8 /a: names and text stand in straight double quotes, "; this is the typographic “`},
	{"{“a”: 1}", `1:2-1:3 root: names and text stand in straight double quotes, "; this is the typographic “`},
	{"{`a`: 1}", "1:2-1:3 root: names and text stand in double quotes, not in `"},
	{"{1: 2}", `1:2-1:3 root: names stand in double quotes: write "1"`},
	{"{{}}", `1:2-1:3 root: a name in double quotes is expected here; an object is { "name": value, … }`},
	{"{[1]: 2}", `1:2-1:3 root: a name in double quotes is expected here; an object is { "name": value, … }`},
	{"{true: 1}", `1:2-1:6 root: names stand in double quotes: write "true"`},
	{"{*: 1}", `1:2-1:3 root: a name in double quotes is expected here, not "*"`},
	{`{"a": *}`, `1:7-1:8 /a: a value is expected here, not "*"`},
	{`{"a": 😀}`, `1:7-1:8 /a: text stands in double quotes: write "😀"`},
	{"// note\n{}", `1:1-1:8 root: JSON has no comments; write a note as a field named "//"`},
	{"{\n  // note\r\n  \"a\": 1}", `2:3-2:10 root: JSON has no comments; write a note as a field named "//"`},
	{`{"a": 1 /* x */}`, `1:9-1:17 /a: JSON has no comments; write a note as a field named "//"`},
	{"# x\n{}", `1:1-1:4 root: JSON has no comments; write a note as a field named "//"`},
	{`{"a": /* x */ 1}`, `1:7-1:17 /a: JSON has no comments; write a note as a field named "//"`},
	{"{} // end", `1:4-1:10 root: JSON has no comments; write a note as a field named "//"`},
	{"{\"a\":\u00a01}", "1:6-1:7 /a: there is an invisible character here (U+00A0); delete it"},
	{"{\u200b\"a\": 1}", "1:2-1:3 root: there is an invisible character here (U+200B); delete it"},
	{"{\"a\": \x011}", "1:7-1:8 /a: there is a control character here (U+0001); delete it"},
	{"{\"a\": 1}\x00", "1:9-1:10 root: there is a control character here (U+0000); delete it"},
	{"{\"a\": \"x\ty\"}", "1:9-1:10 /a: there is a tab inside this text; write \\t or a space"},
	{"{\"a\": \"x\ay\"}", "1:9-1:10 /a: there is a control character inside this text; write \\u0007 or delete it"},
	{`{"a": "C:\plans"}`, "1:10-1:12 /a: a backslash begins an escape, and \\p is none; write \\\\ for a backslash"},
	{`{"a": "\x41"}`, "1:8-1:10 /a: a backslash begins an escape, and \\x is none; write \\\\ for a backslash"},
	{`{"a": "\'"}`, "1:8-1:10 /a: a backslash begins an escape, and \\' is none; write \\\\ for a backslash"},
	{`{"a": "\u12G4"}`, "1:8-1:10 /a: \\u needs four hexadecimal digits after it"},
	{`{"a": "\ud83d"}`, "1:8-1:14 /a: \\ud83d is half of a character; write the character itself, or both halves"},
	{`{"a": "\ude00"}`, "1:8-1:14 /a: \\ude00 is half of a character; write the character itself, or both halves"},
	{`{"a": "\ud83d\u0041"}`, "1:8-1:14 /a: \\ud83d is half of a character; write the character itself, or both halves"},
	{`{"a": "say "hi" now"}`, `1:12-1:13 /a: the text ends at this double quote; inside text, write it as \"`},
	{"{\"a\": \"\\\x01\"}", "1:8-1:10 /a: a backslash begins an escape, and \\ before U+0001 is none; write \\\\ for a backslash"},
	{"{} {}", "1:4-1:5 root: a second value begins here; a file holds one, and it ends on line 1"},
	{"{}\n{\"a\": 1}", "2:1-2:2 root: a second value begins here; a file holds one, and it ends on line 1"},
	{"{}}", "1:3-1:4 root: there is a closing } too many: the value that the file holds ends on line 1"},
	{"{},", "1:3-1:4 root: the value that the file holds ends on line 1; remove this comma and what follows"},
	{"[] x", "1:4-1:5 root: the value that the file holds ends on line 1; remove what follows it"},
	{"{}\n]", "2:1-2:2 root: there is a closing ] too many: the value that the file holds ends on line 1"},
	{"1 2", "1:3-1:4 root: the value that the file holds ends on line 1; remove what follows it"},
	{`{"a": 1, "b": 2, "a": 3}`, `1:18-1:21 /a: the name "a" stands twice in this object, first on line 1; keep one of the two`},
	{"{\"legs\": [{\"id\": \"w1\",\n \"id\": \"w2\",\n \"id\": \"w3\"}], \"😀\": 1, \"😀\": 2}", `2:2-2:6 /legs/0/id: the name "id" stands twice in this object, first on line 1; keep one of the two` + "\n" +
		`3:2-3:6 /legs/0/id: the name "id" stands twice in this object, first on line 1; keep one of the two` + "\n" +
		`3:24-3:27 /😀: the name "😀" stands twice in this object, first on line 3; keep one of the two`},
	{`{"a": 1, "\u0061": 2}`, `1:10-1:18 /a: the name "a" stands twice in this object, first on line 1; keep one of the two`},
	{`{"a": 1, "a": 2, }`, `1:10-1:13 /a: the name "a" stands twice in this object, first on line 1; keep one of the two` + "\n" +
		"1:16-1:17 /a: the comma before the closing } must go: nothing follows it"},
	{`{"a": 1e999}`, "1:7-1:12 /a: the number 1e999 is too large to use; check its exponent"},
	{"[-1e400, 1e-999, 0e-999, 1e308, 5e-324]", "1:2-1:8 /0: the number -1e400 is too large to use; check its exponent" + "\n" +
		"1:10-1:16 /1: the number 1e-999 is too close to zero to use; check its exponent, or write 0"},
	{`{"a": 1e99999999999999}`, "1:7-1:23 /a: the number 1e99999999999999 is too large to use; check its exponent"},
	{`{"a": 12345678901234567890123456789012345678901234567890123456789012345}`, "1:7-1:72 /a: this number is 65 characters long; write it with at most 64"},
	{`"a`, "1:1-1:3 root: this text has no closing double quote; the end of the file may be missing"},
	{"tru", `1:1-1:4 root: text stands in double quotes: write "tru"`},
	{"buried", `1:1-1:7 root: text stands in double quotes: write "buried"`},
	{`{"😀": "🌲🌲", "b": x}`, `1:18-1:19 /b: text stands in double quotes: write "x"`},
	{"{\"a\": \"🌲\r\n\"}", "1:7-1:9 /a: this text has no closing double quote on its line; text may not run over the end of a line (write \\n inside it)"},
	{"]", "1:1-1:2 root: a value is expected here, not ]"},
	{"}", "1:1-1:2 root: a value is expected here, not }"},
	{",", "1:1-1:2 root: a value is expected here, not ,"},
	{":", "1:1-1:2 root: a value is expected here, not :"},
	{"18 in", "1:4-1:6 root: the value that the file holds ends on line 1; remove what follows it"},
	{"[1, 2\n \"b\": 3]", "1:6-1:6 /1: the list that begins at 1:1 has no closing ] before the next name"},
	{"{\"list\": [1, 2,\n \"b\": 3}", "2:5-2:6 /list/2: a name with a value belongs in an object, but the list that begins at 1:10 is still open"},
	{`{"a": 1 * 2}`, `1:9-1:10 /a: a comma or a closing } is expected here, not "*"`},
	{"{\"a\":\u009b1}", "1:6-1:7 /a: there is an invisible character here (U+009B); delete it"},
	{"{\"a\": \u202e1}", "1:7-1:8 /a: there is an invisible character here (U+202E); delete it"},
	{"{\"a\": \"\\\u009b\"}", "1:8-1:10 /a: a backslash begins an escape, and \\ before U+009B is none; write \\\\ for a backslash"},
	{`{"a": 5'6"}`, `1:7-1:11 /a: a length with a unit stands in double quotes: write "5 ft 6 in"`},
	{`{"a": 6″}`, `1:7-1:9 /a: a length with a unit stands in double quotes: write "6 in"`},
	{`{"a": 6′}`, `1:7-1:9 /a: a length with a unit stands in double quotes: write "6 ft"`},
	{"[-]", "1:2-1:3 root: - is not a number as JSON writes it; write its digits"},
	{`{"": 1, "": 2}`, `1:9-1:11 /: the name "" stands twice in this object, first on line 1; keep one of the two`},
	{`{"~/": 1, "~/": 2}`, `1:11-1:15 /~0~1: the name "~/" stands twice in this object, first on line 1; keep one of the two`},
}

// brief writes a problem as the table above does.
func brief(p Problem) string {
	pointer := p.Pointer
	if pointer == "" {
		pointer = "root"
	}
	return fmt.Sprintf("%d:%d-%d:%d %s: %s", p.Line, p.Column, p.EndLine, p.EndColumn, pointer, p.Message)
}

func TestDamagedFiles(t *testing.T) {
	for _, c := range damaged {
		doc, problems := Parse("a.lighting.json", []byte(c.text), Limits{})
		if doc != nil {
			t.Errorf("%q was read", c.text)
		}
		got := make([]string, len(problems))
		for i, p := range problems {
			got[i] = brief(p)
		}
		if strings.Join(got, "\n") != c.want {
			t.Errorf("%q:\n got %q\nwant %q", c.text, strings.Join(got, "\n"), c.want)
		}
	}
}
