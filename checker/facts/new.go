package facts

import "reflect"

// New returns a document in which every collection is empty but present.
func New() *Document {
	doc := &Document{}
	fillSlices(reflect.ValueOf(doc).Elem())
	return doc
}

// Normalise gives every absent collection inside doc, at any depth, an empty
// array, so that rules never meet null.
func (doc *Document) Normalise() { fillSlices(reflect.ValueOf(doc).Elem()) }

func fillSlices(v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fillField(v.Field(i), v.Type().Field(i))
		}
	case reflect.Slice:
		for i := range v.Len() {
			fillSlices(v.Index(i))
		}
	}
}

func fillField(field reflect.Value, kind reflect.StructField) {
	optional := len(kind.Tag.Get("json")) > 0 && isOptional(kind.Tag.Get("json"))
	if field.Kind() == reflect.Slice && field.IsNil() && !optional {
		field.Set(reflect.MakeSlice(field.Type(), 0, 0))
		return
	}
	if field.Kind() == reflect.Slice || field.Kind() == reflect.Struct {
		fillSlices(field)
	}
}

func isOptional(tag string) bool {
	const suffix = ",omitempty"
	return len(tag) > len(suffix) && tag[len(tag)-len(suffix):] == suffix
}
