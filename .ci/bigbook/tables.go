package main

import (
	"fmt"
	"math/rand/v2"
)

func (b *bigBook) materials(give func(...any)) {
	give("Material", "Kind", "Pack size", "Pack price")
	give("Soy wax", "wax", "45 lb", 92.5)
	give("Blue dye", "dye", "1 fl oz", 6.5)
	give("Jar", "jar", "12 each", 18)
	give("Wick", "wick", "100 each", 11)
	for i := range b.pairs() {
		give(fmt.Sprint("Scent oil ", i), "fragrance", "16 oz", 20+i%9)
	}
}

func (b *bigBook) pairs() int { return (b.products + 1) / 2 }

func (b *bigBook) recipes(give func(...any)) {
	give("Recipe", "Material", "Amount", "Per")
	for i := range b.pairs() {
		name := fmt.Sprint("Scent ", i)
		give(name, "Soy wax", 1, "parts")
		give(name, fmt.Sprint("Scent oil ", i), 8, "% of wax")
		give(name, "Blue dye", 4+i%3, "drops/lb")
	}
}

func (b *bigBook) jars(give func(...any)) {
	give("Jar", "Fill")
	give("Tumbler", "6.5 oz")
}

func (b *bigBook) parts(give func(...any)) {
	give("Jar", "Material", "Quantity")
	give("Tumbler", "Jar", 1)
	give("Tumbler", "Wick", 1)
}

func (b *bigBook) list(give func(...any)) {
	give("Product", "Recipe", "Jar", "Finish", "List price")
	for i := range b.products {
		give(code(i), fmt.Sprint("Scent ", i/2), "Tumbler", []string{"colored", "natural"}[i%2], 22+i%5)
	}
}

func code(i int) string { return fmt.Sprintf("C%03d-%c", i/2, "CN"[i%2]) }

func (b *bigBook) channels(give func(...any)) {
	give("Channel", "Fee", "Fee per order")
	give("Website", 5, 0.3)
	give("Market stall", 2.7, 0)
	give("Shop", 0, 0)
}

// year parts the year into as many seasons as asked for.
func (b *bigBook) year(give func(...any)) {
	give("Season", "From", "To")
	day := func(i int) string { return fmt.Sprintf("%02d-%02d", i/28+1, i%28+1) }
	for i := range b.seasons {
		first, next := i*336/b.seasons, (i+1)*336/b.seasons
		to := day(next - 1)
		if next%28 == 0 {
			to = fmt.Sprintf("%02d-%02d", next/28, []int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}[next/28-1])
		}
		give(fmt.Sprint("Season ", i+1), day(first), to)
	}
}

func (b *bigBook) sales(give func(...any), random *rand.Rand) {
	give("Date", "Product", "Channel", "Customer", "Quantity", "Unit price", "Discount", "Order")
	text := func(s string) any { return s }
	if b.shape == "inline" {
		text = func(s string) any { return inline(s) }
	}
	channel := ""
	for i := range b.rows {
		if i%2 == 0 { // an order is of one channel
			channel = []string{"Website", "Market stall", "Shop"}[random.IntN(3)]
		}
		product := random.IntN(b.products)
		var customer, discount, order any = text(fmt.Sprint("Customer ", random.IntN(2000))), float64(random.IntN(4)) / 2, 100000 + i/2
		switch b.shape {
		case "orders":
			order = fmt.Sprint("W", 100000+i/2)
		case "random":
			order = fmt.Sprintf("%016x", random.Uint64())
		case "blank":
			for _, c := range []*any{&customer, &discount, &order} {
				if random.IntN(2) == 0 {
					*c = blank{}
				}
			}
		}
		name := code(product)
		if b.shape == "odd" {
			switch i {
			case 1_000:
				name = "C-unknown"
			case 2_000:
				discount = text("a little")
			}
		}
		give(date(firstDay+i*days/b.rows), text(name), text(channel), customer,
			1+random.IntN(3), float64(22+product%5)-float64(random.IntN(2))/2, discount, order)
	}
}
