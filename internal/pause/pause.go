// Package pause is how long work asks whether it should stop. In a browser there is
// one thread: while Go works, no message arrives and no timer fires, so that neither a
// Stop nor a time limit would be noticed (golang/go#39620). There Err now and then lets
// the browser's events run before it answers; everywhere else it only answers.
//
//	err.go       everywhere but in a browser
//	err_js.go    in a browser
package pause
