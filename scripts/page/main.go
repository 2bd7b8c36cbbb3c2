// Command page builds the page: one HTML file with the engine in it.
//
//	go run ./scripts/page -o findrive.html
//	go run ./scripts/page -serve localhost:8000     builds anew at each load
//
// It needs Go alone. For one version of Go the file has the same bytes, from whatever
// folder and on whatever machine it is built.
package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"flag"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"findrive/internal/page"
)

func main() {
	output := flag.String("o", "findrive.html", "the `file` to write")
	serve := flag.String("serve", "", "serve the page at this `address` instead, built anew at each load")
	flag.Parse()
	var err error
	if *serve != "" {
		fmt.Println("http://" + *serve + "/")
		err = http.ListenAndServe(*serve, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			data, err := build(r.Context())
			if err != nil {
				http.Error(w, err.Error(), http.StatusInternalServerError)
				return
			}
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			_, _ = w.Write(data)
		}))
	} else {
		err = write(*output)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "page:", err)
		os.Exit(1)
	}
}

func write(output string) error {
	data, err := build(context.Background())
	if err != nil {
		return err
	}
	if err := os.WriteFile(output, data, 0o644); err != nil {
		return err
	}
	fmt.Printf("%s: %.2f MB\n", output, float64(len(data))/1e6)
	return nil
}

// build makes the page.
func build(ctx context.Context) ([]byte, error) {
	engine, err := packed(ctx)
	if err != nil {
		return nil, err
	}
	start, err := starter(ctx)
	if err != nil {
		return nil, err
	}
	return page.Document(ctx, page.Made{Engine: engine, Starter: start})
}

// writing is whose packages read and write: ours, but for those below, the libraries, and of
// the standard library what searches do not use.
var writing = []string{"archive", "bufio", "bytes", "compress", "container", "crypto", "embed", "encoding", "fmt", "hash", "html", "image", "io", "log", "math/big", "math/rand", "mime", "net", "os", "path", "reflect", "regexp", "strings", "strconv", "syscall", "text", "time", "unicode", "codeberg.org", "github.com", "golang.org/x/image", "golang.org/x/text", "maragu.dev/gomponents", "findrive/internal"}

// searching are the packages that searches spend their time in.
var searching = []string{"design", "drive", "forecast", "layout", "mechanics", "pause", "search", "units"}

// packed is the engine as WebAssembly, gzipped.
func packed(ctx context.Context) ([]byte, error) {
	dir, err := os.MkdirTemp("", "findrive-page-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, "engine.wasm")
	// What makes HTML, words and paper is many calls of small functions: written out at each
	// call they would be megabytes, which nobody's eye can tell in speed.
	args := []string{"build", "-trimpath", "-buildvcs=false", "-ldflags", "-s -w -buildid="}
	for _, p := range writing {
		args = append(args, "-gcflags", p+"/...=-l")
	}
	for _, p := range searching {
		args = append(args, "-gcflags", "findrive/internal/"+p+"=")
	}
	cmd := exec.CommandContext(ctx, "go", append(args, "-o", file, "findrive/internal/page/engine")...)
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOWASM=", "GOFLAGS=", "CGO_ENABLED=0")
	if out, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("the engine does not build: %w\n%s", err, out)
	}
	wasm, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(wasm); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// starter is the script that comes with Go and starts a program in a browser.
func starter(ctx context.Context) (string, error) {
	root, err := exec.CommandContext(ctx, "go", "env", "GOROOT").Output()
	if err != nil {
		return "", err
	}
	data, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
	return string(data), err
}
