package strict

import (
	"encoding"
	"errors"
	"math"
	"reflect"
	"slices"
	"sort"
	"strconv"
	"strings"
	"sync"
)

// checkNumbers refuses infinite numbers and NaN anywhere in the file.
func (f *File) checkNumbers(path []string, v any) error {
	switch v := v.(type) {
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return f.Errorf(path, "must be a finite number")
		}
	case map[string]any:
		for _, key := range f.inOrder(path, v) {
			if err := f.checkNumbers(f.child(path, key), v[key]); err != nil {
				return err
			}
		}
	case []map[string]any:
		for i := range v {
			if err := f.checkNumbers(f.element(path, i), v[i]); err != nil {
				return err
			}
		}
	case []any:
		for i := range v {
			if err := f.checkNumbers(f.element(path, i), v[i]); err != nil {
				return err
			}
		}
	}
	return nil
}

// child returns the path with one more part, never sharing memory. While no
// places are known, paths are not kept.
func (f *File) child(path []string, part string) []string {
	if !f.indexed {
		return nil
	}
	return append(path[:len(path):len(path)], part)
}

// element is child for the element of a list.
func (f *File) element(path []string, i int) []string {
	if !f.indexed {
		return nil
	}
	return f.child(path, strconv.Itoa(i))
}

// inOrder returns the keys of a table, once places are known in the order in
// which they stand in the file, so that the first fault reported is the first
// in the file.
func (f *File) inOrder(path []string, table map[string]any) []string {
	keys := make([]string, 0, len(table))
	for key := range table {
		keys = append(keys, key)
	}
	if !f.indexed {
		return keys
	}
	sort.Slice(keys, func(i, j int) bool {
		x, y := f.first(f.child(path, keys[i])), f.first(f.child(path, keys[j]))
		if x.start != y.start {
			return x.start < y.start
		}
		return keys[i] < keys[j]
	})
	return keys
}

// first returns where a key first stands. A list of tables stands where its
// first element does.
func (f *File) first(path []string) span {
	if at, ok := f.where[join(path)]; ok {
		return at
	}
	return f.where[join(f.element(path, 0))]
}

func (f *File) decodeInto(table map[string]any, into any) error {
	v := reflect.ValueOf(into)
	if v.Kind() != reflect.Pointer || v.IsNil() {
		panic("strict: Decode needs a pointer")
	}
	if err := f.checkNumbers(nil, table); err != nil {
		return err
	}
	return f.set(nil, table, v.Elem())
}

// set stores one value of the parsed file in a Go value.
func (f *File) set(path []string, data any, into reflect.Value) error {
	if into.Kind() == reflect.Pointer {
		if into.IsNil() {
			into.Set(reflect.New(into.Type().Elem()))
		}
		return f.set(path, data, into.Elem())
	}
	_, isTable := data.(map[string]any)
	if u, ok := into.Addr().Interface().(encoding.TextUnmarshaler); ok && (!isTable || into.Kind() != reflect.Struct || !hasFields(into.Type())) {
		return f.setText(path, data, into, u)
	}
	switch into.Kind() {
	case reflect.Struct:
		table, ok := data.(map[string]any)
		if !ok {
			return f.wrongKind(path, data, "a table of keys")
		}
		return f.setStruct(path, table, into)
	case reflect.Map:
		return f.setMap(path, data, into)
	case reflect.Slice:
		return f.setSlice(path, data, into)
	case reflect.Interface:
		into.Set(reflect.ValueOf(visible(data)))
		return nil
	case reflect.String:
		s, ok := data.(string)
		if !ok {
			return f.wrongKind(path, data, "text in quotes")
		}
		into.SetString(Visible(s))
	case reflect.Bool:
		b, ok := data.(bool)
		if !ok {
			return f.wrongKind(path, data, "true or false")
		}
		into.SetBool(b)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		n, ok := data.(int64)
		if !ok {
			return f.wrongKind(path, data, "a whole number")
		}
		if into.OverflowInt(n) {
			return f.Errorf(path, "%d: is too large", n)
		}
		into.SetInt(n)
	case reflect.Float64:
		switch n := data.(type) {
		case float64:
			into.SetFloat(n)
		case int64:
			into.SetFloat(float64(n))
		default:
			return f.wrongKind(path, data, "a number")
		}
	default:
		panic("strict: cannot decode into " + into.Type().String())
	}
	return nil
}

// visible is Visible for every text in a value of any kind.
func visible(data any) any {
	switch data := data.(type) {
	case string:
		return Visible(data)
	case []any:
		for i := range data {
			data[i] = visible(data[i])
		}
	case []map[string]any:
		for _, table := range data {
			visible(table)
		}
	case map[string]any:
		for key, value := range data {
			data[key] = visible(value)
		}
	}
	return data
}

// setText hands text, or a bare number or truth value as typed, to a type that
// reads its own text.
func (f *File) setText(path []string, data any, into reflect.Value, u encoding.TextUnmarshaler) error {
	var text string
	switch data := data.(type) {
	case string:
		text = data
	case int64:
		text = strconv.FormatInt(data, 10)
	case float64:
		text = strconv.FormatFloat(data, 'g', -1, 64)
	case bool:
		text = strconv.FormatBool(data)
	default:
		want := "text in quotes"
		if into.Kind() == reflect.Struct && hasFields(into.Type()) {
			want += " or a table of keys"
		}
		return f.wrongKind(path, data, want)
	}
	if typed := f.typed(path); typed != "" && f.indexed {
		if _, isText := data.(string); !isText {
			text = typed // so that a message shows it as typed
		}
	}
	if err := u.UnmarshalText([]byte(Visible(text))); err != nil {
		return f.Errorf(path, "%w", err)
	}
	return nil
}

func (f *File) setStruct(path []string, table map[string]any, into reflect.Value) error {
	known := fields(into.Type())
	for _, key := range f.inOrder(path, table) {
		index, ok := known[key]
		if !ok {
			return f.unknownKey(f.child(path, key), known, tableWith(into.Type(), key))
		}
		if err := f.set(f.child(path, key), table[key], into.FieldByIndex(index)); err != nil {
			return err
		}
	}
	return nil
}

func (f *File) setMap(path []string, data any, into reflect.Value) error {
	table, ok := data.(map[string]any)
	if !ok {
		return f.wrongKind(path, data, "a table of keys")
	}
	into.Set(reflect.MakeMapWithSize(into.Type(), len(table)))
	for _, key := range f.inOrder(path, table) {
		element := reflect.New(into.Type().Elem()).Elem()
		if err := f.set(f.child(path, key), table[key], element); err != nil {
			return err
		}
		into.SetMapIndex(reflect.ValueOf(key).Convert(into.Type().Key()), element)
	}
	return nil
}

func (f *File) setSlice(path []string, data any, into reflect.Value) error {
	list := reflect.ValueOf(data)
	if _, ok := into.Interface().(OneOrMany); ok && list.Kind() != reflect.Slice {
		into.Set(reflect.MakeSlice(into.Type(), 1, 1))
		return f.set(path, data, into.Index(0))
	}
	if list.Kind() != reflect.Slice {
		if _, ok := data.(map[string]any); ok && into.Type().Elem().Kind() == reflect.Struct && len(path) > 0 {
			return f.oneTable(path)
		}
		return f.wrongKind(path, data, "a list in [ ]")
	}
	into.Set(reflect.MakeSlice(into.Type(), list.Len(), list.Len()))
	for i := range list.Len() {
		if err := f.set(f.element(path, i), list.Index(i).Interface(), into.Index(i)); err != nil {
			return err
		}
	}
	return nil
}

// errUnplaced stops the first pass, which knows no places.
var errUnplaced = errors.New("strict: unknown key")

// OneOrMany marks a slice type that takes a single value in place of a list of
// one. The method is never called.
type OneOrMany interface{ OneOrMany() }

// known keeps the fields of each type met; they never change.
var known sync.Map // reflect.Type -> map[string][]int

// fields returns the keys that a struct takes. Embedded structs count as part
// of it.
func fields(t reflect.Type) map[string][]int {
	if m, ok := known.Load(t); ok {
		return m.(map[string][]int)
	}
	m := map[string][]int{}
	for _, field := range reflect.VisibleFields(t) {
		tag, _, _ := strings.Cut(field.Tag.Get("toml"), ",")
		if tag == "-" || !field.IsExported() || field.Anonymous {
			continue
		}
		if tag == "" {
			tag = field.Name
		}
		m[tag] = field.Index
	}
	known.Store(t, m)
	return m
}

// hasFields reports whether a struct takes keys at all. One that only reads
// text, such as a temperature, has no exported field.
func hasFields(t reflect.Type) bool { return len(fields(t)) > 0 }

// Keys lists the keys of a table that is read into a T, behind a prefix, in the order
// of its fields and without some. Tests hold help and samples against such lists.
func Keys[T any](prefix string, without ...string) (out []string) {
	for field := range reflect.TypeFor[T]().Fields() {
		if name := field.Tag.Get("toml"); name != "" && !slices.Contains(without, name) {
			out = append(out, prefix+name)
		}
	}
	return out
}
