package tomledit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// Value is a value as TOML writes it. The zero value is none.
type Value struct{ toml string }

// IsZero reports whether there is no value.
func (v Value) IsZero() bool { return v.toml == "" }

// String is the value as TOML writes it.
func (v Value) String() string { return v.toml }

// Text is a text in quotes.
func Text(s string) Value {
	var out strings.Builder
	out.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			out.WriteByte('\\')
			out.WriteRune(r)
		case r == '\n':
			out.WriteString(`\n`)
		case r == '\t':
			out.WriteString(`\t`)
		case unicode.IsControl(r):
			fmt.Fprintf(&out, `\u%04X`, r)
		default:
			out.WriteRune(r) // what is no UTF-8 becomes U+FFFD
		}
	}
	out.WriteByte('"')
	return Value{out.String()}
}

// Whole is a whole number.
func Whole(n int) Value { return Value{strconv.Itoa(n)} }

// Number is a number with a point, exactly.
func Number(x float64) Value {
	switch {
	case math.IsNaN(x):
		return Value{"nan"}
	case math.IsInf(x, 0):
		return Value{strings.ToLower(strconv.FormatFloat(x, 'g', -1, 64))}
	}
	out := strconv.FormatFloat(x, 'g', -1, 64)
	if mantissa, exponent, has := strings.Cut(out, "e"); !strings.Contains(mantissa, ".") {
		out = mantissa + ".0"
		if has {
			out += "e" + exponent
		}
	}
	return Value{out}
}

// Yes is true or false.
func Yes(b bool) Value { return Value{strconv.FormatBool(b)} }

// List is a list of values.
func List(values ...Value) Value {
	all := make([]string, len(values))
	for i, v := range values {
		all[i] = v.toml
	}
	return Value{"[" + strings.Join(all, ", ") + "]"}
}
