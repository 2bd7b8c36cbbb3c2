package page

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"errors"
	"io"

	"findrive/internal/plan"
	"findrive/internal/report"
	"findrive/internal/sheet"
)

// keptPlan is the cupboard as it was shared out, for the files as they are.
type keptPlan struct {
	Told   report.ToldGroups
	Packed string `json:",omitempty"` // the plan as it is saved; empty if nobody can build
}

// packPlan is a plan as it is kept. It is several times as long unpacked, and is kept anew
// with each act.
func packPlan(file []byte) string {
	var b bytes.Buffer
	w, err := flate.NewWriter(&b, flate.DefaultCompression)
	if err != nil {
		return ""
	}
	_, _ = w.Write(file) // a buffer takes everything
	_ = w.Close()
	return base64.StdEncoding.EncodeToString(b.Bytes())
}

// sharedBy is the cupboard shared out by a plan that was kept for a question; it is not if the
// plan cannot be read.
func (k *keptPlan) sharedBy(to question) shared {
	out := shared{to: to, told: &k.Told, packed: k.Packed}
	if k.Packed == "" {
		return out
	}
	packed, err := base64.StdEncoding.DecodeString(k.Packed)
	if err != nil {
		return shared{}
	}
	file, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(packed)), plan.MaxBytes+1))
	if err != nil || out.take(file) != nil || len(out.plan.Drives) != len(out.told.Drives) {
		return shared{}
	}
	return out
}

// take takes up a plan from its file, and makes its papers.
func (sh *shared) take(file []byte) error {
	p, all, err := plan.Read(file)
	if err != nil {
		return err
	}
	classes, err := plan.Classes(p, all, sheet.DefaultOptions())
	if err != nil {
		return err
	}
	if len(classes) != 1 {
		return errors.New("a plan of the page has one brief")
	}
	sh.plan, sh.file, sh.class = p, file, &classes[0]
	return nil
}
