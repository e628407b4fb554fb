package strict

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"time"
)

// tableWith returns the table inside a struct that takes a key, the first by name,
// "" if none does.
func tableWith(t reflect.Type, key string) (table string) {
	for name, index := range fields(t) {
		inner := t.FieldByIndex(index).Type
		if inner.Kind() == reflect.Pointer {
			inner = inner.Elem()
		}
		if inner.Kind() != reflect.Struct {
			continue
		}
		if _, ok := fields(inner)[key]; ok && (table == "" || name < table) {
			table = name
		}
	}
	return table
}

// unknownKey refuses a key; table is the one that takes it, "" if none does.
func (f *File) unknownKey(path []string, known map[string][]int, table string) error {
	if len(path) == 0 { // first pass; the second one tells
		return errUnplaced
	}
	names := make([]string, 0, len(known))
	for name := range known {
		names = append(names, name)
	}
	slices.Sort(names)
	key := path[len(path)-1]
	hint := "known here: " + strings.Join(names, ", ")
	if near := Nearest(key, names); table != "" {
		hint = "it belongs below [" + table + "]"
	} else if near != "" {
		hint = "did you mean " + near + "?"
	}
	e := f.errorAtKey(path, "is not a key of this file", Plain(hint), nil)
	place, exact := f.find(path) // the caret belongs under the key, not its value
	if !exact {                  // a list of tables stands where its first one does
		place, exact = f.find(f.element(path, 0))
	}
	if exact {
		e = f.errorAt(place, e.Message, hint, nil)
	}
	return e
}

// wrongKind says what a value is and what it should be.
func (f *File) wrongKind(path []string, data any, want string) error {
	var is string
	switch data.(type) {
	case string:
		is = "text"
	case int64:
		is = "a whole number"
	case float64:
		is = "a number"
	case bool:
		is = "a truth value"
	case time.Time:
		is = "a date or time without quotes"
	case map[string]any:
		is = "a table"
	case []map[string]any:
		is = "a list of tables"
	default:
		is = "a list"
	}
	if typed := f.typed(path); typed != "" {
		hint := ""
		if len(path) > 0 {
			hint = quotesHint(path[len(path)-1], typed, data, want)
		}
		return f.HintErrorf(path, hint, "%s: is %s, and must be %s", typed, is, want)
	}
	return f.Errorf(path, "is %s, and must be %s", is, want)
}

// quotesHint says where quotes are missing or too many, or "".
func quotesHint(key, typed string, data any, want string) string {
	if yes := map[string]string{"yes": "true", "no": "false"}[strings.ToLower(typed)]; yes != "" && want == "true or false" {
		return "write " + key + " = " + yes
	}
	if _, isText := data.(string); !isText {
		if strings.HasPrefix(want, "text") {
			return fmt.Sprintf(`put it in quotes: %s = "%s"`, key, typed)
		}
		return ""
	}
	_, notNumber := strconv.ParseFloat(typed, 64)
	_, notWhole := strconv.ParseInt(typed, 10, 64)
	switch {
	case want == "a number" && notNumber == nil, want == "a whole number" && notWhole == nil,
		want == "true or false" && (typed == "true" || typed == "false"):
		return fmt.Sprintf("leave the quotes out: %s = %s", key, typed)
	}
	return ""
}

// oneTable says that a table stands where a list of them is wanted.
func (f *File) oneTable(path []string) error {
	name := path[len(path)-1]
	return f.HintErrorf(path, "write [["+name+"]] before each one", "is a single table, and there may be several")
}
