# Turns the supermarket panels of the R package bayesm into sales lists and says
# what a maker's sums over them are, in base R's own words: aggregate, tapply,
# chisq.test, prop.test, lm. Nothing of the data is kept in this repository.
#
# orangeJuice: 83 stores, 11 brands, weeks 40 to 160 (Montgomery 1997); tuna: 7
# brands, 338 weeks (Chevalier, Kashyap, Rossi 2003); cheese: 88 retailers
# (Boatwright, McCulloch, Rossi 1999).
#
# Usage: Rscript panels.R FOLDER [STORES]; writes sales files and expected.tsv
# there, of the first stores only where a number is given.
suppressMessages(library(bayesm))
dir <- commandArgs(TRUE)[1]
data(orangeJuice)
data(tuna)
data(cheese)

# --- the sales lists -------------------------------------------------------
# Week 1 of the panels began on 14 September 1989 (from memory; an anchor only).
week <- function(w) as.Date("1989-09-14") + 7 * (w - 1)
yx <- orangeJuice$yx
stores <- as.integer(commandArgs(TRUE)[2])
if (!is.na(stores)) yx <- yx[yx$store %in% head(sort(unique(yx$store)), stores), ]
shelf <- as.matrix(yx[paste0("price", 1:11)])
oj <- data.frame(
  date = week(yx$week), product = sprintf("OJ%02d", yx$brand), quantity = round(exp(yx$logmove) / 64),
  price = round(shelf[cbind(seq_along(yx$brand), yx$brand)] * 64, 2),
  channel = c("Web", "Shop", "Stall")[yx$store %% 3 + 1], order = paste0("S", yx$store, "-", yx$week),
  customer = paste0("Store ", yx$store, " aisle ", yx$brand %% 4), market = "")
oj$discount <- ifelse(yx$deal == 1, round(0.04 * oj$quantity * oj$price, 2), 0)
fair <- yx$store == 5 & yx$week %% 8 == 0
oj$market[fair] <- "Fair"
oj$customer[yx$store %% 10 == 1] <- ""
oj$order[yx$store %% 7 == 2] <- ""
back <- which(seq_along(yx$brand) %% 211 == 0) # every 211th line comes back for half
returned <- oj[back, ]
returned$quantity <- -ceiling(returned$quantity / 2)
returned$discount <- 0
returned$date <- returned$date + 3
oj <- rbind(oj, returned)

tu <- do.call(rbind, lapply(1:7, function(b) data.frame(
  date = week(tuna$WEEK), product = paste0("TU", b), quantity = tuna[[paste0("MOVE", b)]],
  price = round(exp(tuna[[paste0("LPRICE", b)]]), 2), channel = "Trade", order = paste0("T", tuna$WEEK), customer = "", market = "",
  discount = 0)))

turn <- ave(seq_along(cheese$PRICE), cheese$RETAILER, FUN = seq_along)
ch <- data.frame(
  date = week(95 + turn), product = "CHEESE", quantity = round(cheese$VOLUME / 100), price = round(cheese$PRICE, 2),
  channel = "Shop", order = paste0("C", as.integer(cheese$RETAILER), "-", turn), customer = paste("Retailer", as.integer(cheese$RETAILER)),
  market = "", discount = round(cheese$DISP * 20, 2))

start <- seq(as.Date("1990-01-02"), as.Date("1992-12-02"), by = "month")
at <- findInterval(start, week(tuna$WEEK))
bought <- data.frame(date = start, material = "Soft wax", quantity = "45 lb",
  paid = round(45 * exp(tuna$LWHPRIC1[at]), 2), freight = round(4 + 5 * exp(tuna$LWHPRIC4[at]), 2))
save <- function(x, name) write.csv(x, file.path(dir, name), row.names = FALSE, na = "")
save(oj, "oj.csv")
save(tu, "tuna.csv")
save(ch, "cheese.csv")
save(bought, "purchases.csv")

# --- one unit of every product --------------------------------------------
lb <- 453.59237
oz <- lb / 16
brand <- c(sprintf("OJ%02d", 1:11), paste0("TU", 1:7), "CHEESE")
p <- data.frame(product = brand,
  finish = ifelse(brand %in% c(sprintf("OJ%02d", c(4, 8, 10, 11)), "TU3", "TU7", "CHEESE"), "natural", "colored"),
  recipe = ifelse(grepl("OJ", brand), "Orange", "Sea"), jar = rep(c("Small", "Large", "Bowl"), length.out = 19))
p$list <- 4 + 0.5 * seq_along(brand)
rownames(p) <- brand
fill <- c(Small = 30, Large = 60, Bowl = 90)
loss <- 0.03
reject <- 0.02
drops.wax <- 6 / lb
rate <- c(hard = (31 + 4.5) / (10 * lb), oil = (26 + 1.5) / (16 * oz), amber = 5.75 / oz, teal = 24 / 100, wick = 2 / 100, sticker = 0.04)
rate.jar <- c(Small = 0.12, Large = 0.25, Bowl = 0.4)

# What goes into good units: melted materials in grams, minutes, costs but of the
# soft wax, whose price changes.
unit <- function(recipe, finish, f) {
  colored <- finish == "colored"
  orange <- recipe == "Orange"
  r.oil <- ifelse(orange, 0.065, 0)
  b.oil <- ifelse(orange, 0, 0.07)
  r.dye <- ifelse(!colored, 0, ifelse(orange, drops.wax / (22 / 0.92), 0.12 / 100))
  wax <- f * (1 - b.oil) / (1 + r.oil + r.dye)
  melt <- data.frame(soft = wax * ifelse(orange, 0.75, 1), hard = wax * ifelse(orange, 0.25, 0), oil = wax * r.oil + f * b.oil,
    amber = wax * r.dye * orange, teal = wax * r.dye * !orange) / (1 - loss) / (1 - reject)
  n <- pmax(1, floor(4000 * (1 - loss) / f))
  extra <- ifelse(colored, 9, 0) / n / (1 - reject)
  minutes <- (0.5 + 24 / n) / (1 - reject) + extra
  list(melt = melt, extra = extra, minutes = minutes, labor = minutes / 60 * 18,
    other = melt$hard * rate["hard"] + melt$oil * rate["oil"], dye = melt$amber * rate["amber"] + melt$teal * rate["teal"])
}
mine <- unit(p$recipe, p$finish, fill[p$jar])
melt <- mine$melt
rownames(melt) <- brand
parts <- (rate.jar[p$jar] + rate["wick"] * ifelse(p$jar == "Bowl", 2, 1) + rate["sticker"] * (p$finish == "colored")) / (1 - reject)
variable.rest <- mine$other + mine$dye + parts + mine$labor

month <- function(d) format(d, "%Y-%m")
months <- format(seq(as.Date("1989-09-01"), as.Date("1997-12-01"), by = "month"), "%Y-%m")
last <- tapply(seq_along(start), factor(month(start), months), max)
seen <- Reduce(function(a, b) if (is.na(b)) a else b, last, accumulate = TRUE)
soft <- ifelse(is.na(seen), (40 + 5) / (25 * lb), ((bought$paid + bought$freight) / (45 * lb))[seen])
overheads <- 300 + ifelse(months >= "1991-03" & months <= "1992-02", 60, 0)
names(soft) <- names(overheads) <- months

variable <- outer(melt$soft, soft) + variable.rest
overhead <- outer(mine$minutes / 60, overheads / 60)
dimnames(variable) <- dimnames(overhead) <- list(brand, months)

# --- every line ------------------------------------------------------------
x <- rbind(oj, tu, ch)
x$net <- x$quantity * x$price - x$discount
x$month <- month(x$date)
x <- cbind(x, p[x$product, c("finish", "recipe", "jar")])
key <- cbind(x$product, x$month)
x$variable <- x$quantity * variable[key]
x$overhead <- x$quantity * overhead[key]
x$cost <- x$variable + x$overhead
channels <- data.frame(fee = c(6.5, 3, 2.6, 1) / 100, order = c(0.45, 0.2, 0.1, 5), unit = c(0.3, 0, 0.02, 0.05),
  row.names = c("Web", "Shop", "Stall", "Trade"))
x$order.key <- ifelse(x$order == "", paste("line", seq_len(nrow(x))), paste(x$channel, x$order))
positive <- pmax(x$net, 0)
share <- ifelse(positive > 0, positive / ave(positive, x$order.key, FUN = sum), 0)
fee <- channels[x$channel, ]
x$fees <- fee$fee * x$net + ifelse(x$net >= 0, fee$unit * x$quantity, 0) + fee$order * share
x$contribution <- x$net - x$fees - x$variable
day <- format(x$date, "%m-%d")
x$season <- ifelse(day >= "12-01" | day <= "02-29", "Winter", ifelse(day <= "05-31", "Spring", ifelse(day <= "08-31", "Summer", "Autumn")))
x$season.year <- as.integer(format(x$date, "%Y")) - (day <= "02-29")

out <- character()
say <- function(..., value) out <<- c(out, paste(paste(..., sep = "/"), sprintf("%.17g", value), sep = "\t"))
sums <- function(d, by, where) {
  a <- aggregate(cbind(units = quantity, net_sales = net, fees = fees, cost_of_sales = cost, contribution = contribution,
    gross_margin = net - cost) ~ g, data.frame(d, g = d[[by]]), sum)
  for (k in names(a)[-1]) say(where, a$g, k, value = a[[k]])
  invisible(a)
}

# --- a long period ---------------------------------------------------------
from <- as.Date("1990-06-01")
to <- as.Date("1992-09-30")
long <- x[x$date >= from & x$date <= to, ]
sums(long, "product", "long/products")
sums(long, "channel", "long/channels")
long$all <- "totals"
sums(long, "all", "long")
say("long/totals/discounts", value = sum(long$discount))
say("long/totals/overhead_absorbed", value = sum(long$overhead))
say("long/totals/overhead", value = sum(overheads[months >= "1990-06" & months <= "1992-09"]))
say("long/totals/booth_fees", value = 25 * sum(unique(x$date[x$market == "Fair" & x$quantity > 0]) %in% seq(from, to, by = "day")))

# --- dye and fragrance by season ------------------------------------------
u <- x[x$date <= to, ]
for (m in c("oil", "amber", "teal")) {
  grams <- u$quantity * melt[u$product, m]
  a <- aggregate(cbind(grams, cost = grams * rate[m]) ~ season + season.year, u, sum)
  a <- a[abs(a$grams) > 1e-9, ]
  name <- c(oil = "Citrus oil", amber = "Amber dye", teal = "Teal dye")[m]
  say("long/use", name, a$season.year, a$season, "grams", value = a$grams)
  say("long/use", name, a$season.year, a$season, "cost", value = a$cost)
  say("long/use", name, a$season.year, a$season, "ml", value = a$grams / c(oil = 0.96, amber = 0.92, teal = 0.9)[m])
  if (m == "amber") say("long/use", name, a$season.year, a$season, "drops", value = a$grams * 22 / 0.92)
}

# --- colored against natural ----------------------------------------------
w <- x[x$date >= as.Date("1990-10-01") & x$date <= to, ]
trade <- w[w$channel == "Trade", ]
for (k in c("colored", "natural")) say("long/split/wholesale", k, value = sum(trade$quantity[trade$finish == k]))
w <- w[w$channel != "Trade", ]
split.of <- function(d, where) {
  c0 <- max(0, sum(d$quantity[d$finish == "colored"]))
  n0 <- max(0, sum(d$quantity[d$finish == "natural"]))
  m <- tapply(d$quantity, d$order.key, sum)
  m <- m[m > 0]
  eff <- min(c0 + n0, sum(m)^2 / sum(m^2))
  share <- c0 / (c0 + n0)
  ci <- suppressWarnings(prop.test(share * eff, eff, correct = FALSE)$conf.int)
  values <- c(colored = c0, natural = n0, share = share, n_eff = eff,
    if (n0 > 0) c(ratio = c0 / n0, ratio_low = ci[1] / (1 - ci[1]), ratio_high = ci[2] / (1 - ci[2])))
  say(where, names(values), value = values)
  eff
}
eff <- split.of(w, "long/split/overall")
for (s in unique(w$season)) for (y in unique(w$season.year[w$season == s])) {
  d <- w[w$season == s & w$season.year == y, ]
  split.of(d, paste("long/split/by_season", y, s, sep = "/"))
  for (j in unique(d$jar)) split.of(d[d$jar == j, ], paste("long/split/by_season_and_jar", y, s, j, sep = "/"))
}
for (j in unique(w$jar)) split.of(w[w$jar == j, ], paste("long/split/by_jar", j, sep = "/"))
for (by in c("season", "jar")) {
  tab <- xtabs(quantity ~ w[[by]] + finish, w)
  stopifnot(min(suppressWarnings(chisq.test(tab))$expected) > 5)
  stat <- suppressWarnings(chisq.test(tab, correct = FALSE)$statistic) / max(1, sum(tab) / eff)
  say(paste0("long/split/", by, "_test"), c("chi_square", "df", "p"),
    value = c(stat, nrow(tab) - 1, pchisq(stat, nrow(tab) - 1, lower.tail = FALSE)))
}
known <- w[w$customer != "", ]
c.units <- tapply(known$quantity * (known$finish == "colored"), known$customer, sum)
n.units <- tapply(known$quantity * (known$finish == "natural"), known$customer, sum)
kind <- ifelse(n.units > 0 & c.units > 0, "both", ifelse(n.units > 0, "natural_only", "colored_only"))
for (k in unique(kind)) {
  d <- known[kind[known$customer] == k, ]
  say("long/split/customers", k, c("count", "net_sales", "contribution"), value = c(sum(kind == k), sum(d$net), sum(d$contribution)))
  if (k == "natural_only") say("long/split/drop_natural/at_risk", value = sum(d$contribution))
}
per <- tapply(w$contribution, w$finish, sum) / tapply(w$quantity, w$finish, sum)
say("long/split/drop_natural/break_even_switch", value = per["natural"] / per["colored"])
d <- w[w$finish == "colored", ]
i <- match(d$product, brand)
saved <- sum(d$quantity * (mine$dye[i] + mine$extra[i] / 60 * 18))
say("long/split/drop_color/saved", value = saved)
say("long/split/drop_color/break_even_loss", value = saved / sum(d$contribution))

# --- one month against the one before ---------------------------------------
a <- sums(x[x$month == "1992-08", ], "product", "month/products")
b <- sums(x[x$month == "1992-07", ], "product", "ignored")
stopifnot(identical(a$g, b$g), all(a$units > 0), all(b$units > 0))
m0 <- b$gross_margin / b$units
volume <- (a$units - b$units) * m0
change <- list(volume = volume, price = (a$net_sales / a$units - b$net_sales / b$units) * a$units,
  cost = -(a$cost_of_sales / a$units - b$cost_of_sales / b$units) * a$units)
for (k in names(change)) say("month/change", a$g, k, value = change[[k]])
q <- (sum(a$units) - sum(b$units)) * sum(b$gross_margin) / sum(b$units)
say("month/quantity_effect", value = q)
say("month/mix_effect", value = sum(volume) - q)

# --- a market ----------------------------------------------------------------
today <- as.Date("1992-10-05")
past <- x[x$date <= today, ]
zero <- function(v) ifelse(is.na(v), 0, pmax(v, 0))
fairs <- week(seq(40, 160, 8))
at.fair <- past[past$market == "Fair", ]
nearest <- apply(abs(outer(as.numeric(at.fair$date), as.numeric(fairs), "-")), 1, which.min)
sold <- zero(tapply(at.fair$quantity, list(factor(at.fair$product, brand), factor(nearest, seq_along(fairs))), sum))
totals <- colSums(sold)
totals <- totals[totals > 0]
a <- sold[, max(which(colSums(sold) > 0))]
M <- 1.1 * sum(a)
r <- 1 / (var(totals / mean(totals)) - 1 / mean(totals))
r <- if (r < 0) 50 else min(50, max(2, r))
autumn <- past[past$season == "Autumn" & past$date > as.Date("1990-10-05"), ]
u <- zero(tapply(autumn$quantity, factor(autumn$product, brand), sum))
g <- (u + 0.5) / (sum(u) + 0.5 * length(brand))
mean.of <- M * (a + 20 * g) / (sum(a) + 20)
per.order <- function(channel) {
  d <- past[past$channel == channel & past$net > 0, ]
  sum(d$quantity) / length(unique(d$order.key))
}
v <- variable[, "1992-10"]
cu <- p$list * (1 - 0.026) - 0.02 - 0.1 / per.order("Stall") - v
co <- v * 0.3
K <- qnbinom(weighted.mean((cu / (cu + co))[cu > 0], mean.of[cu > 0]), size = r, mu = M)
units <- do.call(rbind, lapply(seq_along(brand), function(i) {
  k <- seq_len(qnbinom(cu[i] / (cu[i] + co[i]), size = r, mu = mean.of[i]) + 5)
  below <- pnbinom(k - 1, size = r, mu = mean.of[i])
  data.frame(i, k, worth = cu[i] * (1 - below) - co[i] * below)
}))
units <- units[units$worth > 0, ]
units <- head(units[order(-units$worth, units$i, units$k), ], K)
bring <- tabulate(units$i, length(brand))
expect <- sapply(seq_along(brand), function(i) sum(pnbinom(seq_len(bring[i]) - 1, size = r, mu = mean.of[i], lower.tail = FALSE)))
say("plan/expected_total", value = M)
say("plan/demand", brand, "mean", value = mean.of)
say("plan/demand", brand, "r", value = rep(r, length(brand)))
say("plan/demand", brand, "bring", value = bring)
started <- ceiling(bring / (1 - reject) * (1 - 1e-9))
say("plan/demand", brand, "pour", value = started)
say("plan/demand", brand, "expected_sold", value = expect)
say("plan/demand", brand, "expected_contribution", value = cu * expect - co * (bring - expect))

# --- what its pours take, all of which fit ------------------------------------
goods <- data.frame(size = c(25 * lb, 10 * lb, 16 * oz, oz, 100, 1, 1, 1, 100, 1), price = c(45, 35.5, 27.5, 5.75, 24, 0.12, 0.25, 0.4, 2, 0.04),
  held = c(20 * lb, 0, 0, 50, 0, 100, 0, 500, 0, 0),
  row.names = c("Soft wax", "Hard wax", "Citrus oil", "Amber dye", "Teal dye", "Small tin", "Large tin", "Clay bowl", "Wick", "Sticker"))
goods$need <- c(colSums(started * melt) * (1 - reject), tapply(started, factor(p$jar, names(fill)), sum),
  sum(started * ifelse(p$jar == "Bowl", 2, 1)), sum(started * (p$finish == "colored")))
goods <- goods[goods$need > 0, ]
short <- goods[goods$need > goods$held, ]
say("plan/buy", rownames(short), "need", value = short$need)
say("plan/buy", rownames(short), "cost", value = ceiling((short$need - short$held) / short$size * (1 - 1e-9)) * short$price)
out.of.stock <- goods[goods$held > 0, ]
say("plan/pull", rownames(out.of.stock), "quantity", value = with(out.of.stock, pmin(need, held)))

# --- a new jar ---------------------------------------------------------------
now <- data.frame(recipe = c("Orange", "Orange", "Sea", "Sea"), finish = c("colored", "natural"))
parts.of <- unit(now$recipe, now$finish, 1)$melt * (1 - loss) * (1 - reject)
poured <- 50 * 0.9 / drop(as.matrix(parts.of) %*% (1 / c(0.9, 0.91, 0.96, 0.92, 0.9))) # 50 mL, 90 % full
new <- unit(now$recipe, now$finish, poured)
cost <- new$melt$soft * soft["1992-10"] + new$other + new$dye + (0.2 + 0.03) / (1 - reject) + new$labor
cost <- cost + new$minutes / 60 * overheads["1992-10"] / 60
row <- function(...) paste("price/prices", now$recipe, now$finish, ..., sep = "/")
say(row("unit_cost/total"), value = cost)
list.price <- 0
for (k in c("Web", "Shop", "Stall")) {
  pay <- channels[k, ]
  own <- pay$unit + pay$order / per.order(k)
  price <- (cost + own) / (1 - pay$fee - 0.6)
  rounded <- ceiling(price * (1 - 1e-9))
  list.price <- pmax(list.price, rounded)
  say(row("channels", k, "price"), value = price)
  say(row("channels", k, "rounded"), value = rounded)
  say(row("channels", k, "margin"), value = (rounded * (1 - pay$fee) - own - cost) / rounded)
}
launch <- 3 * (cost - new$labor - new$minutes / 60 * overheads["1992-10"] / 60) # three test jars
say(row("launch_cost"), value = launch)
web <- channels["Web", ]
earned <- list.price * (1 - web$fee) - web$unit - web$order / per.order("Web") - (cost - new$minutes / 60 * overheads["1992-10"] / 60)
say(row("break_even_units"), value = launch / earned)
say(row("wholesale/price"), value = list.price / 2)
say(row("wholesale/margin"), value = (list.price / 2 - cost) / (list.price / 2))
for (k in c("colored", "natural")) {
  d <- data.frame(y = log(p$list), x = log(fill[p$jar]))[p$finish == k, ]
  for (i in which(now$finish == k)) {
    range <- exp(predict(lm(y ~ x, d), data.frame(x = log(poured[i])), interval = "prediction"))
    say(row("range")[i], c("predicted", "low", "high", "sizes"), value = c(range, 3))
  }
}

writeLines(out[!grepl("^ignored", out)], file.path(dir, "expected.tsv"))
