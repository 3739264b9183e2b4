package machine

import (
	"cmp"
	"maps"
	"slices"

	"duskproof/checker/policy/packed"
)

// Write writes a program.
func (p *Program) Write(w *packed.Writer) {
	w.Int(len(p.constants))
	for _, v := range p.constants {
		w.Int(int(v.kind))
		switch v.kind {
		case Number:
			w.Text(v.Digits())
		case Text:
			w.Text(v.text)
		}
	}
	w.Int(len(p.builtins))
	for _, b := range p.builtins {
		w.Text(b.name)
		w.Int(b.parameters)
	}
	w.Int(len(p.arguments))
	for _, a := range p.arguments {
		w.Int(int(a))
	}
	w.Int(len(p.functions))
	for i := range p.functions {
		p.functions[i].write(w)
	}
	w.Int(len(p.entries))
	for _, rule := range slices.Sorted(maps.Keys(p.entries)) {
		w.Text(rule)
		w.Int(p.entries[rule])
	}
}

func (f *function) write(w *packed.Writer) {
	w.Int(f.parameters)
	w.Int(f.locals)
	w.Int(f.scans)
	w.Bool(f.remembered)
	w.Int(len(f.code))
	for i, in := range f.code {
		w.Int(int(in.op))
		w.Int(int(in.a))
		w.Int(int(in.b))
		w.Int(int(in.c))
		w.Int(int(in.other) - i) // most are near
	}
}

// Read reads a program that [Program.Write] wrote.
func Read(r *packed.Reader) (*Program, error) {
	p := &Program{entries: map[string]int{}}
	p.constants = make([]Value, r.Count())
	for i := range p.constants {
		v := Value{kind: Kind(r.Int())}
		switch v.kind {
		case Number:
			number, err := numeral(r.Text())
			if err != nil {
				return nil, cmp.Or(r.Err(), err)
			}
			v = number
		case Text:
			v.text = r.Text()
		}
		p.constants[i] = v
	}
	p.builtins = make([]builtin, r.Count())
	for i := range p.builtins {
		name := r.Text()
		p.builtins[i] = builtin{name, r.Int(), natives[name]}
	}
	p.arguments = make([]int32, r.Count())
	for i := range p.arguments {
		p.arguments[i] = int32(r.Int())
	}
	p.functions = make([]function, r.Count())
	for i := range p.functions {
		p.functions[i].read(r)
	}
	for range r.Count() {
		rule := r.Text()
		p.entries[rule] = r.Int()
	}
	return p, r.Err()
}

func (f *function) read(r *packed.Reader) {
	f.parameters, f.locals, f.scans, f.remembered = r.Int(), r.Int(), r.Int(), r.Bool()
	f.code = make([]instruction, r.Count())
	for i := range f.code {
		f.code[i] = instruction{
			op: operation(r.Int()), a: int32(r.Int()), b: int32(r.Int()), c: int32(r.Int()), other: int32(r.Int() + i),
		}
	}
}
