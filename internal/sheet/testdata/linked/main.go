// Command linked writes an empty page: a program in which nothing of what pages are
// written with is left out.
package main

import (
	"os"

	"findrive/internal/sheet"
)

func main() {
	var p sheet.Page
	if p.HTML(os.Stdout) != nil {
		os.Exit(1)
	}
}
