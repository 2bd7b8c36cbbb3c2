// Command performance makes the tables of docs/performance.md. It is for contributors:
//
//	go run ./scripts/performance ordinary    # the whole search on ordinary cupboards
//	go run ./scripts/performance none        # why ordinary cupboards with no drive have none
//	go run ./scripts/performance whole       # the whole search, loads and places included
//	go run ./scripts/performance gap         # what is known of searches that do not close
//	go run ./scripts/performance memory      # what one question takes, a process for each
//	go run ./scripts/performance serve       # groups that a service's stock serves
//	go run ./scripts/performance shop        # the least order for many groups, on two threads
//	go run ./scripts/performance page FILE   # the built page in Chromium, as its user waits
//
// Times are processor time of one thread, the least of several runs: other work on the
// machine then hardly shows. Only the whole search, why there is none, orders and the page are timed by the clock.
package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
)

func main() {
	jobs := map[string]func() error{"ordinary": ordinary, "none": none, "whole": whole, "gap": gap, "memory": memory, "one": one, "serve": serve, "shop": shop, "page": openings}
	if len(os.Args) < 2 || jobs[os.Args[1]] == nil {
		fmt.Fprintf(os.Stderr, "use: %s ordinary, none, whole, gap, memory, serve, shop or page\n", filepath.Base(os.Args[0]))
		os.Exit(2)
	}
	runtime.GOMAXPROCS(1)
	debug.SetGCPercent(400) // both as cmd/findrive has them
	debug.SetMemoryLimit(240 << 20)
	if err := jobs[os.Args[1]](); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
