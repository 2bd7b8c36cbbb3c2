package report

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/certificate"
	"findrive/internal/design"
	"findrive/internal/recheck"
)

func certificateBytes(t testing.TB, r *design.Result) []byte {
	var out bytes.Buffer
	require.NoError(t, JSON(&out, r, JSONOptions{}))
	return out.Bytes()
}

// TestCertificatesHold has every kind of model rechecked by the independent
// checker, and keeps two certificates for that checker's own tests.
func TestCertificatesHold(t *testing.T) {
	for _, m := range []brief.Model{brief.PlainShaft, brief.Lift, brief.Vehicle, brief.LevelRide, brief.UprightRide} {
		t.Run(string(m), func(t *testing.T) {
			data := certificateBytes(t, testResult(t, m))
			require.Empty(t, recheck.Recheck(data))
			require.Equal(t, data, certificateBytes(t, testResult(t, m)), "the same result, the same bytes")
		})
	}
	golden(t, "lift.json", certificateBytes(t, testResult(t, brief.Lift)))
	golden(t, "vehicle.json", certificateBytes(t, testResult(t, brief.Vehicle)))
	golden(t, "none.json", certificateBytes(t, noneResult()))
	require.Empty(t, recheck.Recheck(certificateBytes(t, noneResult())))
}

func TestCertificateIsPlainJSON(t *testing.T) {
	r := testResult(t, brief.LevelRide)
	r.Status, r.Open = design.StoppedEarly, r.Proposals[0].Total-1000
	// A band that carries nothing has no grip margin; parts may have no lists.
	r.Proposals[0].Stages[0].GripRunning = math.Inf(1)
	r.Proposals[0].Assumed, r.Proposals[0].Notes = nil, nil
	r.Refused[0].Miss = math.Inf(1)
	data := certificateBytes(t, r)
	require.True(t, json.Valid(data))
	for _, word := range []string{"NaN", "Inf"} {
		require.NotContains(t, string(data), word)
	}
	require.Regexp(t, `"grip_margin": null`, string(data))
	require.Regexp(t, `"miss_share": null`, string(data))
	require.Regexp(t, `"bound_points": \d`, string(data))

	// No number is longer than nine significant digits.
	for _, n := range regexp.MustCompile(`: (-?[0-9][0-9.e+-]*)`).FindAllStringSubmatch(string(data), -1) {
		digits := strings.TrimLeft(strings.NewReplacer(".", "", "-", "").Replace(strings.Split(n[1], "e")[0]), "0")
		require.LessOrEqual(t, len(digits), certificate.Figures, n[1])
	}
	var compact bytes.Buffer
	require.NoError(t, JSON(&compact, r, JSONOptions{Compact: true}))
	require.JSONEq(t, string(data), compact.String())
}

// TestNoListIsNull looks for a null where the schema has a list.
func TestNoListIsNull(t *testing.T) {
	r := testResult(t, brief.Lift)
	r.Proposals[0].Uses[0].Also, r.Brief.Cells, r.Brief.Frame.Rails = nil, nil, nil
	r.Proposals[0].Drive.Lanes.BodyLanes, r.Proposals[0].Drive.Lanes.ShaftLanes, r.Refused = nil, nil, nil
	var lists func(reflect.Type, map[string]bool)
	keys := map[string]bool{}
	lists = func(ty reflect.Type, seen map[string]bool) {
		switch ty.Kind() {
		case reflect.Slice, reflect.Pointer:
			lists(ty.Elem(), seen)
		case reflect.Struct:
			for i := range ty.NumField() {
				if ty.Field(i).Type.Kind() == reflect.Slice {
					key, _, _ := strings.Cut(ty.Field(i).Tag.Get("json"), ",")
					seen[key] = true
				}
				lists(ty.Field(i).Type, seen)
			}
		}
	}
	lists(reflect.TypeFor[theCertificate](), keys)
	require.Greater(t, len(keys), 10)
	data := string(certificateBytes(t, r))
	for key := range keys {
		require.NotContains(t, data, `"`+key+`": null`)
	}
}

func TestFigureThatIsNotFiniteIsAnError(t *testing.T) {
	r := testResult(t, brief.PlainShaft)
	r.Proposals[0].Motor.Torque = 0
	r.Proposals[0].Ratio = math.NaN()
	require.ErrorContains(t, JSON(&bytes.Buffer{}, r, JSONOptions{}), "NaN")
}

// TestEveryKeyIsDocumented holds docs/certificate.md to the schema.
func TestEveryKeyIsDocumented(t *testing.T) {
	doc, err := os.ReadFile("../../docs/certificate.md")
	require.NoError(t, err)
	seen := map[string]bool{}
	var walk func(reflect.Type)
	walk = func(ty reflect.Type) {
		switch ty.Kind() {
		case reflect.Slice, reflect.Pointer:
			walk(ty.Elem())
		case reflect.Struct:
			for i := range ty.NumField() {
				key, _, _ := strings.Cut(ty.Field(i).Tag.Get("json"), ",")
				seen[key] = true
				walk(ty.Field(i).Type)
			}
		}
	}
	walk(reflect.TypeFor[theCertificate]())
	require.Greater(t, len(seen), 150)
	for key := range seen {
		require.Contains(t, string(doc), "`"+key+"`", "the certificate's key %s", key)
	}
}
