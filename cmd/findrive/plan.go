package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"findrive/internal/certificate"
	"findrive/internal/parts"
	"findrive/internal/plan"
	"findrive/internal/report"
	"findrive/internal/sheet"
	"findrive/internal/stocktake"
	"findrive/internal/supply"
)

// checkOutputs refuses files to write whose endings say nothing.
func checkOutputs(outputs []string, orders bool) error {
	for _, path := range outputs {
		ext := strings.ToLower(filepath.Ext(path))
		if ext == ".json" || orders && ext == ".csv" {
			continue
		}
		if orders {
			return outcome{exitUsage, fmt.Sprintf("-o %s does not end in .json for the plan or .csv for the orders\nhint: write for example -o plan.json", path)}
		}
		return outcome{exitUsage, fmt.Sprintf("-o %s: a plan is a JSON file\nhint: write for example -o plan.json", path)}
	}
	return nil
}

// planFiles are the files that -o asks for, a plan that made makes and orders.
func planFiles(outputs []string, made func() (*plan.Plan, error), orders []report.Order) ([]file, error) {
	var files []file
	for _, path := range outputs {
		var b bytes.Buffer
		if strings.ToLower(filepath.Ext(path)) == ".json" {
			p, err := made()
			if err != nil {
				return nil, err
			}
			if err := p.Write(&b); err != nil {
				return nil, outcome{exitFailure, err.Error()}
			}
			files = append(files, file{path, b.Bytes()})
			continue
		}
		for i := range orders {
			var b bytes.Buffer
			if err := orders[i].CSV(&b); err != nil {
				return nil, outcome{exitFailure, err.Error()}
			}
			ext := filepath.Ext(path)
			files = append(files, file{strings.TrimSuffix(path, ext) + "-" + sheet.Slug(orders[i].Supplier) + ext, b.Bytes()})
		}
	}
	return files, nil
}

// writePlan writes what -o asks for and says so.
func writePlan(files []file, s said, force bool, stderr io.Writer) error {
	if len(files) == 0 {
		return nil
	}
	in, _ := filesOf(s.cmd, s.args)
	if err := writeFiles(files, force, anotherName, in...); err != nil {
		return err
	}
	for _, f := range files {
		fmt.Fprintf(stderr, "Wrote %s.\n", shown(f.path))
	}
	return nil
}

// writePurchase writes what -o asks for of a purchase. What is returned is the purchase with
// the drives as they stand in what was written.
func writePurchase(ctx context.Context, from string, opt *shopOptions, r *supply.Result, stderr io.Writer) (*supply.Result, error) {
	if len(opt.outputs) == 0 {
		return r, nil
	}
	if r.Plan == nil {
		fmt.Fprintln(stderr, "There is no plan, so nothing is written.")
		return r, nil
	}
	orders := report.Orders(r)
	files, err := planFiles(opt.outputs, func() (*plan.Plan, error) {
		p, err := plan.OfPurchase(ctx, from, r, opt.threads)
		if err != nil {
			return nil, contradiction(err)
		}
		r = p.Purchase(r)
		return p, nil
	}, orders)
	if err != nil {
		return r, err
	}
	if len(orders) == 0 {
		fmt.Fprintln(stderr, "Nothing is bought, so no order is written.")
	}
	return r, writePlan(files, opt.said, opt.force, stderr)
}

// isPlan is whether a file can be read and says that it is a plan.
func isPlan(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	const head = 400
	data, err := io.ReadAll(io.LimitReader(f, head))
	return err == nil && plan.Is(data)
}

// readPlan reads a plan's file.
func readPlan(path string, stdin io.Reader) (*plan.Plan, []*certificate.Certificate, error) {
	data, err := readAtMost(path, plan.MaxBytes, "plan.json", stdin)
	if err != nil {
		return nil, nil, outcome{exitInput, err.Error()}
	}
	if path == "-" {
		path = "standard input"
	}
	if say := mistaken(data, aPlan); say != "" {
		return nil, nil, outcome{exitInput, fmt.Sprintf("%s: %s", shown(path), say)}
	}
	p, all, err := plan.Read(data)
	if err != nil {
		return nil, nil, outcome{exitInput, fmt.Sprintf("%s: %v\nhint: findrive class -o plan.json writes one, and so do shop and term", path, err)}
	}
	return p, all, nil
}

// runPlanSheet writes the papers of a plan: each drive's pages once, the kit list by tray
// and the page for the whole class.
func runPlanSheet(pages []string, opt sheetOptions, how sheet.Options, stdin io.Reader, stdout, stderr io.Writer) error {
	p, all, err := readPlan(opt.plan, stdin)
	if err != nil {
		return err
	}
	for _, c := range all {
		if err := knownOffcuts(c, how.Offcuts); err != nil {
			return err
		}
	}
	classes, err := plan.Papers(p, all, how)
	if err != nil {
		return outcome{exitNone, err.Error()}
	}
	formats := opt.formats
	if opt.all {
		formats = sheetFormats
	}
	var files []file
	for i := range classes {
		c := &classes[i]
		more, err := classFiles(c, opt, pages, formats)
		if err != nil {
			return err
		}
		files = append(files, more...)
		for k := range c.Shares {
			s := &c.Shares[k]
			own := pages
			if len(own) == 0 {
				own = s.Pages()
			}
			own = slices.DeleteFunc(slices.Clone(own), func(n string) bool { return n == sheet.KitPage || n == sheet.DiscsPage })
			if len(own) == 0 {
				continue
			}
			more, err := sheetFiles(s.Set, c.ShareName(k), opt, own, slices.DeleteFunc(slices.Clone(formats), func(f string) bool { return f == "csv" }))
			if err != nil {
				return err
			}
			files = append(files, more...)
		}
	}
	if err := writeSheets(files, opt, stdout); err != nil {
		return err
	}
	return report.Next(stderr, opt.next(files), width(stderr), colour("auto", stderr))
}

// classFiles are the pages of a whole class.
func classFiles(c *sheet.Class, opt sheetOptions, pages, formats []string) ([]file, error) {
	files, err := classDiscs(c, opt, pages, formats)
	if err != nil {
		return nil, err
	}
	for _, page := range []string{sheet.ClassPage, sheet.ClassKitPage} {
		if page == sheet.ClassKitPage && len(pages) > 0 && !slices.Contains(pages, sheet.KitPage) {
			continue
		}
		made, err := c.Page(page)
		if err != nil {
			return nil, outcome{exitFailure, fmt.Sprintf("cannot make the page %s: %v", page, err)}
		}
		base := filepath.Join(opt.dir, c.FileName(page))
		all := formats
		if page == sheet.ClassKitPage && !slices.Contains(all, "csv") {
			all = append(slices.Clone(all), "csv") // to be filled in and given to stock back
		}
		for _, format := range all {
			var b bytes.Buffer
			var err error
			switch {
			case format == "csv" && page == sheet.ClassPage:
				continue
			case format == "csv":
				err = c.KitCSV(&b)
			case format == "html":
				err = made.HTML(&b)
			default:
				more, err := drawingFiles(base+"."+format, made.Paper(paperSizes[opt.paper]))
				if err != nil {
					return nil, outcome{exitFailure, fmt.Sprintf("cannot make the page %s: %v", page, err)}
				}
				files = append(files, more...)
				continue
			}
			if err != nil {
				return nil, outcome{exitFailure, fmt.Sprintf("cannot make the page %s: %v", page, err)}
			}
			files = append(files, file{base + "." + format, b.Bytes()})
		}
	}
	return files, nil
}

// classDiscs are the pages with the discs of all trays, on paper only.
func classDiscs(c *sheet.Class, opt sheetOptions, pages, formats []string) ([]file, error) {
	drawn := c.Discs(paperSizes[opt.paper])
	if drawn == nil || len(pages) > 0 && !slices.Contains(pages, sheet.DiscsPage) {
		return nil, nil
	}
	var files []file
	for _, format := range formats {
		if format == "csv" || format == "html" {
			continue
		}
		more, err := drawingFiles(filepath.Join(opt.dir, sheet.Slug(c.Name)+"-"+sheet.ClassDiscsPage)+"."+format, drawn)
		if err != nil {
			return nil, outcome{exitFailure, fmt.Sprintf("cannot make the page %s: %v", sheet.ClassDiscsPage, err)}
		}
		files = append(files, more...)
	}
	return files, nil
}

// writeSheets writes pages into their folder and names them.
func writeSheets(files []file, opt sheetOptions, stdout io.Writer) error {
	if err := os.MkdirAll(opt.dir, 0o755); err != nil {
		return outcome{exitFailure, fmt.Sprintf("cannot make the folder %q: %v", opt.dir, reason(err))}
	}
	if err := writeFiles(files, opt.force, "choose another folder with -o, or write over it with --force"); err != nil {
		return err
	}
	for _, f := range files {
		if _, err := fmt.Fprintln(stdout, f.path); err != nil {
			return fmt.Errorf("%w: %w", outcome{exitFailure, "cannot name the files: " + err.Error()}, err)
		}
	}
	return nil
}

// verifyPlan checks a plan: every drive again, and that there is enough for all.
func verifyPlan(p *plan.Plan, all []*certificate.Certificate, name string, cup *parts.Cupboard, stdout io.Writer) error {
	if wrong := plan.Check(p, all, cup); len(wrong) > 0 {
		return outcome{exitNone, fmt.Sprintf("%s does not hold:\n  %s", name, strings.Join(wrong, "\n  "))}
	}
	groups := 0
	for i := range p.Drives {
		groups += p.Drives[i].Groups
	}
	against := "what the plan\nsays there is"
	if cup != nil {
		against = "the cupboard"
	}
	return answer(stdout, func(page io.Writer) error {
		drives, each, together := fmt.Sprintf("%d different drives", len(p.Drives)), "each ", "they take"
		if len(p.Drives) == 1 {
			drives, each, together = "1 drive", "", "all sets take"
		}
		whom := map[bool]string{true: "1 group", false: fmt.Sprintf("%d groups", groups)}[groups == 1]
		_, err := fmt.Fprintf(page, "The plan holds: %s for %s, %sworked out again by a\nprogram of its own, and what %s together held to %s.\nIt is not checked that there is no better plan.\n", drives, whom, each, together, against)
		return thenNext(page, err, "findrive sheet --plan "+quoted(name)+" -o "+unused("paper"), "never", stdout)
	})
}

// kitOfPlan is the kit list of a plan as a sheet, to be compared with a count.
func kitOfPlan(name string, data []byte) (stocktake.Sheet, error) {
	p, all, err := plan.Read(data)
	if err != nil {
		return stocktake.Sheet{}, fmt.Errorf("%s: %w", name, err)
	}
	classes, err := plan.Papers(p, all, sheet.DefaultOptions())
	if err != nil {
		return stocktake.Sheet{}, fmt.Errorf("%s: %w", name, err)
	}
	if len(classes) > 1 {
		return stocktake.Sheet{}, fmt.Errorf("%s: its briefs are built one after another: give the kit list of the one that comes back, which findrive sheet --plan writes", name)
	}
	var b bytes.Buffer
	if err := classes[0].KitCSV(&b); err != nil {
		return stocktake.Sheet{}, err
	}
	return stocktake.Sheet{Name: name, Data: b.Bytes()}, nil
}

// planned is what to do with a plan: make its papers, or first write it down, and the
// orders of what is bought with it.
func (s said) planned(outputs []string, orders bool) string {
	for _, path := range outputs {
		if strings.ToLower(filepath.Ext(path)) == ".json" {
			return "findrive sheet --plan " + quoted(path) + " -o " + unused("paper")
		}
	}
	more := []string{"-o", unused("plan.json")}
	if orders && len(outputs) == 0 {
		more = append(more, "-o", unusedOrders())
	}
	return s.again(more...)
}

// unusedOrders is a name for orders, from which the names of their files are made, that none
// there begins with.
func unusedOrders() string {
	base := "order"
	for n := 2; ; n++ {
		if there, err := filepath.Glob(base + "-*.csv"); err != nil || len(there) == 0 {
			return base + ".csv"
		}
		base = fmt.Sprintf("order-%d", n)
	}
}
