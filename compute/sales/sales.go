// Package sales turns the lines of Sales into what the sums mean: signed
// units, gross, discount, net and fees per line, orders, and sums by product,
// channel, month and season.
package sales
