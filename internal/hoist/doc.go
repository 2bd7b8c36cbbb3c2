// Package hoist finds how pulley blocks and a cord lift a load: every reeving
// that can be built from the cupboard, the pull each needs, the cord it takes,
// and how the blocks themselves are made.
//
// The words: a block holds sheaves side by side; the cord is rove from the tied
// end through the sheaves to the fall, the end that is pulled. The rope parts are
// the pieces of cord that hold up the moving block: count the parts, not the
// wheels. A reeving that ends at a sheave of the beam is pulled down, one that
// ends at a moving sheave is pulled up, and a single fixed pulley has one part: it
// gains nothing and turns the pull round, which is safer.
package hoist
