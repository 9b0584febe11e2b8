package parse

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// codes are currency codes (ISO 4217) that are recognised beside a number.
var codes = strings.Fields("USD EUR GBP CAD AUD NZD CHF SEK NOK DKK ISK PLN CZK HUF RON BGN TRY ZAR MXN BRL ARS CLP COP " +
	"UYU PEN JPY CNY HKD SGD TWD KRW INR IDR MYR PHP THB VND ILS AED SAR UAH RUB RSD BYN NGN KES")

// signs are what is written for a currency, and the codes that it may stand
// for. Longer ones come first.
var signs = []struct {
	sign  string
	codes string
}{
	{"US$", "USD"},
	{"CA$", "CAD"},
	{"AU$", "AUD"},
	{"NZ$", "NZD"},
	{"HK$", "HKD"},
	{"MX$", "MXN"},
	{"C$", "CAD"},
	{"A$", "AUD"},
	{"R$", "BRL"},
	{"S$", "SGD"},
	{"zł", "PLN"},
	{"Kč", "CZK"},
	{"kr.", "SEK NOK DKK ISK"},
	{"kr", "SEK NOK DKK ISK"},
	{"Fr.", "CHF"},
	{"Ft", "HUF"},
	{"lei", "RON"},
	{"$", "USD CAD AUD NZD HKD SGD TWD MXN CLP COP ARS UYU"},
	{"€", "EUR"},
	{"£", "GBP"},
	{"¥", "JPY CNY"},
	{"￥", "JPY CNY"},
	{"₹", "INR"},
	{"₩", "KRW"},
	{"₺", "TRY"},
	{"₽", "RUB"},
	{"₴", "UAH"},
	{"₪", "ILS"},
	{"₫", "VND"},
	{"฿", "THB"},
	{"₱", "PHP"},
	{"₦", "NGN"},
}

// frontCurrency takes a currency off the front of s.
func frontCurrency(s string) (name, rest string, ok bool) {
	for _, x := range signs {
		if hasPrefixFold(s, x.sign) {
			return x.sign, s[len(x.sign):], true
		}
	}
	if r, size := utf8.DecodeRuneInString(s); unicode.Is(unicode.Sc, r) {
		return s[:size], s[size:], true
	}
	if len(s) > 3 && isCode(s[:3]) && !letter(s[3]) {
		return strings.ToUpper(s[:3]), s[3:], true
	}
	return "", s, false
}

// backCurrency takes a currency off the end of s.
func backCurrency(s string) (name, rest string, ok bool) {
	for _, x := range signs {
		if i := len(s) - len(x.sign); i > 0 && hasPrefixFold(s[i:], x.sign) {
			return x.sign, s[:i], true
		}
	}
	if r, size := utf8.DecodeLastRuneInString(s); unicode.Is(unicode.Sc, r) {
		return s[len(s)-size:], s[:len(s)-size], true
	}
	if i := len(s) - 3; i > 0 && isCode(s[i:]) && !letter(s[i-1]) {
		return strings.ToUpper(s[i:]), s[:i], true
	}
	return "", s, false
}

// hasPrefixFold compares bytes of the same length, so that what is cut off is
// exactly the sign.
func hasPrefixFold(s, sign string) bool {
	return len(s) >= len(sign) && strings.EqualFold(s[:len(sign)], sign)
}

func isCode(s string) bool { return slices.Contains(codes, strings.ToUpper(s)) }

func letter(b byte) bool { return b|0x20 >= 'a' && b|0x20 <= 'z' }

// SameCurrency reports whether a sign or code that stood with a number may
// mean the currency with the given code. No sign is any currency.
func SameCurrency(found, code string) bool {
	code = strings.ToUpper(strings.TrimSpace(code))
	if found == "" || found == code {
		return true
	}
	for _, x := range signs {
		if x.sign == found {
			return slices.Contains(strings.Fields(x.codes), code)
		}
	}
	return false
}

// IsCurrency reports whether s is a currency's sign or code and nothing else.
func IsCurrency(s string) bool {
	t := tidy(s)
	if isCode(t) {
		return true
	}
	return slices.ContainsFunc(signs, func(x struct{ sign, codes string }) bool { return strings.EqualFold(x.sign, t) })
}
