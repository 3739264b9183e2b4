package facts

import (
	"reflect"
	"strings"
	"sync"
)

// New returns a document in which every collection is empty but present.
func New() *Document {
	doc := &Document{}
	fill(reflect.ValueOf(doc).Elem())
	return doc
}

// Normalise gives every absent collection inside doc, at any depth, an empty
// array, so that rules never meet null.
func (doc *Document) Normalise() { fill(reflect.ValueOf(doc).Elem()) }

// collection is a field of a struct that is a collection, or holds some.
type collection struct {
	index int
	empty reflect.Value // what an absent one becomes; none for an optional one
	deep  bool          // there may be collections below
}

// collections are the fields to look at, by struct type; a struct without any
// has none.
var collections sync.Map // reflect.Type to []collection

func collectionsOf(kind reflect.Type) []collection {
	if known, found := collections.Load(kind); found {
		return known.([]collection)
	}
	var list []collection
	for i := range kind.NumField() {
		field := kind.Field(i)
		c := collection{index: i, deep: holdsCollections(field.Type)}
		if field.Type.Kind() == reflect.Slice && !strings.HasSuffix(field.Tag.Get("json"), ",omitempty") {
			c.empty = reflect.MakeSlice(field.Type, 0, 0)
		}
		if c.deep || c.empty.IsValid() {
			list = append(list, c)
		}
	}
	collections.Store(kind, list)
	return list
}

// holdsCollections reports whether there may be collections in a value of a
// type, itself not counted.
func holdsCollections(kind reflect.Type) bool {
	if kind.Kind() == reflect.Slice {
		kind = kind.Elem()
	}
	return kind.Kind() == reflect.Struct && len(collectionsOf(kind)) > 0
}

// fill fills a struct, or every struct in a slice.
func fill(v reflect.Value) {
	if v.Kind() == reflect.Slice {
		for i := range v.Len() {
			fill(v.Index(i))
		}
		return
	}
	for _, c := range collectionsOf(v.Type()) {
		field := v.Field(c.index)
		if c.empty.IsValid() && field.IsNil() {
			field.Set(c.empty)
			continue
		}
		if c.deep {
			fill(field)
		}
	}
}
