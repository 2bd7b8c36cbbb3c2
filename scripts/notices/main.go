// Command notices writes the licences of the libraries that findrive is built on:
// those that are in the program itself, not those of its tests.
//
//	go generate ./internal/notices
package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

func main() {
	output := flag.String("o", "NOTICES.txt", "the `file` to write")
	flag.Parse()
	text, err := notices()
	if err == nil {
		err = os.WriteFile(*output, text, 0o644)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "notices:", err)
		os.Exit(1)
	}
}

// systems are those the program is built for: some libraries are in it on one only.
var systems = []string{"linux", "windows", "darwin"}

func notices() ([]byte, error) {
	var modules []string
	for _, system := range systems {
		list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}{{end}}", "findrive/cmd/findrive")
		list.Env = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0")
		list.Stderr = os.Stderr
		out, err := list.Output()
		if err != nil {
			return nil, err
		}
		modules = append(modules, strings.Fields(strings.ReplaceAll(string(out), "\t", "|"))...)
	}
	slices.Sort(modules)
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	b.WriteString("findrive is built on the libraries below. Each has its own licence, given in full.\n")
	if err := licences(&b, "The standard library of Go", strings.TrimSpace(string(root))); err != nil {
		return nil, err
	}
	for _, m := range slices.Compact(modules) {
		f := strings.Split(m, "|")
		if err := licences(&b, f[0]+" "+f[1], f[2]); err != nil {
			return nil, err
		}
	}
	return b.Bytes(), nil
}

var licence = regexp.MustCompile(`(?i)^(licen[cs]es?|copying|notice|patents|ftl|gpl)([.-].*)?$`)

// licences writes the licence files of a library, those in a folder of licences too.
func licences(b *bytes.Buffer, name, dir string) error {
	fmt.Fprintf(b, "\n%s\n%s\n", strings.Repeat("=", 78), name)
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil {
		return err
	}
	more, err := filepath.Glob(filepath.Join(dir, "licenses", "*"))
	if err != nil {
		return err
	}
	found := false
	for _, file := range append(files, more...) {
		at, err := os.Stat(file)
		if err != nil {
			return err
		}
		if !licence.MatchString(filepath.Base(file)) || at.IsDir() {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		found = true
		fmt.Fprintf(b, "%s\n\n%s\n", strings.Repeat("-", 78), strings.TrimSpace(strings.ReplaceAll(string(text), "\r\n", "\n")))
	}
	if !found {
		return fmt.Errorf("%s has no licence file", name)
	}
	return nil
}
