# Makes up purchases, sales, pours and counts of several months and says what a
# maker's stock and its cost come to, in loops over a shelf of lots: first in,
# first out as lots that are emptied one after the other, the periodic weighted
# average as a sum of money over a sum of pieces.
#
# Usage: Rscript roll.R FOLDER BOOKS; writes BOOK-sales.csv, -purchases.csv,
# -counts.csv and -pours.csv (every second book) and expected.tsv there.
dir <- commandArgs(TRUE)[1]
books <- as.integer(commandArgs(TRUE)[2])
set.seed(9)
months <- seq(as.Date("2026-01-01"), as.Date("2026-10-01"), by = "month")
ends <- seq(as.Date("2026-02-01"), as.Date("2026-11-01"), by = "month") - 1
out <- character()
say <- function(key, value) out <<- c(out, paste(key, sprintf("%.17g", value), sep = "\t"))

# What one good unit takes: grams through the pitcher, pieces past the rejects.
loss <- 0.04
reject <- 0.03
oil <- 0.08 # per gram of wax
takes <- t(sapply(list(PG = c(180, 1, 0, 0, 1), PC = c(240, 0, 1, 0, 2), PT = c(95, 0, 0, 1, 0)), function(x)
  c(Wax = x[1] / (1 + oil) / (1 - loss), Oil = x[1] * oil / (1 + oil) / (1 - loss), Glass = x[2], Clay = x[3], Tin = x[4], Cover = x[5]))) / (1 - reject)
listed <- c(Wax = (9.5 + 0.75) / 1000, Oil = 24 / 500, Glass = 1.3, Clay = 3.1, Tin = 0.85, Cover = 0.35)
size <- c(Wax = 1000, Oil = 500, Glass = 1, Clay = 1, Tin = 1, Cover = 1) # base units that a pack holds
channel <- data.frame(row.names = c("Web", "Stall", "Shop"), share = c(0.065, 0.03, 0.1), order = c(0.30, 0, 0.45), unit = c(0.15, 0.2, 0))

any.day <- function(n, from, to) from + sample.int(as.integer(to - from) + 1, n, replace = TRUE) - 1

# --- the records -----------------------------------------------------------
records <- function(poured) {
  line <- function(n, most) data.frame(
    date = any.day(n, months[1], ends[10]), product = sample(rownames(takes), n, TRUE), units = sample.int(most, n, TRUE))
  sales <- line(24, 14)
  sales$order <- paste0("A", seq_len(24))
  sales$channel <- sample(rownames(channel), 24, TRUE)
  second <- sales # an order has two lines, or one without an id
  second$product <- sample(rownames(takes), 24, TRUE)
  second$units <- sample.int(14, 24, TRUE)
  sales <- rbind(sales, second[1:18, ])
  sales$order[19:24] <- NA
  back <- line(9, 6)
  back$units <- -back$units
  back$order <- NA
  back$channel <- sample(rownames(channel), 9, TRUE)
  quiet <- sample(3:9, 2) # a month without sales, and one in which more comes back than goes
  sales <- sales[as.integer(format(sales$date, "%m")) != quiet[1], ]
  sales <- sales[as.integer(format(sales$date, "%m")) != quiet[2], ]
  small <- line(10, 2) # customers of one or two candles, and the edge of 24 months
  old <- data.frame(date = as.Date(c("2024-09-17", "2024-09-18", "2024-10-31", "2024-11-01")), product = c("PT", "PG", "PG", "PC"), units = 2:5)
  small <- rbind(small, old)
  small$order <- NA
  small$channel <- sample(rownames(channel), 14, TRUE)
  sales <- rbind(sales, back, small)
  sales$customer <- c(sample(c(NA, paste("Buyer", 1:9)), nrow(sales) - 14, TRUE), paste("Neighbor", 1:14))
  sales$price <- 5 + sample.int(40, nrow(sales), TRUE) / 4
  sales$off <- sign(sales$units) * ifelse(runif(nrow(sales)) < 0.4, sample.int(300, nrow(sales), TRUE) / 100, 0)
  free <- sample(which(sales$units > 0), 2) # went for nothing
  sales$off[free] <- sales$units[free] * sales$price[free]
  sales$net <- sales$units * sales$price - sales$off
  whole <- ave(pmax(0, sales$net), ifelse(is.na(sales$order), paste("line", seq_len(nrow(sales))), paste(sales$channel, sales$order)), FUN = sum)
  f <- channel[sales$channel, ]
  sales$net[free] <- 0
  sales$fees <- f$share * sales$net
  sold <- sales$net > 0
  sales$fees[sold] <- (sales$fees + f$unit * sales$units + f$order * sales$net / whole)[sold]
  sales$fees[free] <- (f$unit * sales$units)[free]
  pours <- if (poured) line(30, 20) else sales[0, c("date", "product", "units")]
  buys <- do.call(rbind, lapply(colnames(takes), function(m) {
    n <- sample(3:8, 1)
    d <- any.day(n, months[sample.int(4, 1)], ends[10])
    much <- if (m == "Wax") 8 else if (m == "Oil") 3 else 70
    q <- sample.int(much, n, TRUE)
    data.frame(date = d, material = m, packs = q, paid = round(q * listed[[m]] * size[[m]] * runif(n, 0.6, 1.7), 2),
      freight = ifelse(runif(n) < 0.5, round(runif(n, 0.5, 9), 2), 0),
      quantity = q * size[[m]], liters = FALSE)
  }))
  buys$liters <- buys$material == "Wax" & runif(nrow(buys)) < 0.3 # some wax comes by volume, 0.9 g/mL
  buys$quantity[buys$liters] <- buys$packs[buys$liters] * 1000 * 0.9
  counts <- do.call(rbind, lapply(colnames(takes), function(m) {
    n <- sample(0:5, 1)
    much <- if (m == "Wax") 9000 else if (m == "Oil") 1500 else 90
    data.frame(date = any.day(n, months[1], ends[10]), material = rep(m, n), quantity = sample(0:much, n, TRUE))
  }))
  counts <- counts[!duplicated(counts[c("date", "material")]), ]
  list(sales = sales[order(sales$date), ], pours = pours[order(pours$date), ], buys = buys[order(buys$date), ],
    counts = counts[order(counts$date), ])
}

# The lines as makers write them: the price or the total, a refund's minus at the
# quantity or at the money, its discount with either sign.
written <- function(x) {
  n <- nrow(x)
  refund <- x$units < 0
  at.money <- refund & runif(n) < 0.5
  total <- runif(n) < 0.4
  data.frame(date = x$date, product = x$product, quantity = ifelse(at.money, -x$units, x$units),
    price = ifelse(total, NA, ifelse(at.money, -x$price, x$price)), total = ifelse(total, x$units * x$price - x$off, NA),
    discount = ifelse(x$off == 0, NA, ifelse(refund & runif(n) < 0.5, x$off, abs(x$off))),
    channel = x$channel, order = x$order, customer = x$customer)
}

# --- one material's shelf --------------------------------------------------
# What use goes by: what was poured, where that was written down, else what was sold.
made <- function(r) if (nrow(r$pours) > 0) r$pours else r$sales

# The use of a material over some days, refunds taken off.
use <- function(r, m, from, to) {
  x <- made(r)
  x <- x[x$date >= from & x$date <= to, ]
  sum(x$units * takes[x$product, m])
}

shelf <- function(r, m, method, today) {
  buys <- r$buys[r$buys$material == m & r$buys$date <= today, ]
  counts <- r$counts[r$counts$material == m & r$counts$date <= today, ]
  buys$landed <- buys$paid + buys$freight
  if (nrow(buys) == 0) return(NULL)
  first <- buys$date[1]
  early <- counts[counts$date < first, ]
  opened <- as.Date(-Inf)
  lots <- data.frame(left = numeric(), price = numeric())
  cost <- newest <- buys$landed[1] / buys$quantity[1]
  left <- 0
  if (nrow(early) > 0) {
    opened <- tail(early$date, 1)
    left <- tail(early$quantity, 1)
    lots <- data.frame(left = left, price = cost)
  }
  rows <- list()
  for (i in seq_along(months)) {
    start <- months[i]
    if (ends[i] < first || start > today) next
    end <- min(ends[i], today)
    row <- list(start = start, end = end, opening = left, use = max(0, use(r, m, max(start, opened + 1), end)))
    now <- buys[buys$date >= start & buys$date <= end, ]
    row$bought <- sum(now$quantity)
    lots <- rbind(lots, data.frame(left = now$quantity, price = now$landed / now$quantity))
    if (nrow(now) > 0) newest <- tail(now$landed / now$quantity, 1)
    row$without <- max(0, left + row$bought - row$use)
    take <- function(amount) { # from the oldest lots; the worth of what they hold
      worth <- 0
      for (k in seq_len(nrow(lots))) {
        x <- min(amount, lots$left[k])
        worth <- worth + x * lots$price[k]
        lots$left[k] <<- lots$left[k] - x
        amount <- amount - x
      }
      c(worth, amount)
    }
    if (method == "latest") {
      cost <- newest
    } else if (method == "average") {
      if (left + row$bought > 0) cost <- (left * cost + sum(now$landed)) / (left + row$bought)
    } else if (row$use > 0) {
      got <- take(row$use)
      cost <- (got[1] + got[2] * newest) / row$use
    } else if (any(lots$left > 1e-9)) {
      cost <- lots$price[which(lots$left > 1e-9)[1]]
    }
    row$cost <- cost
    row$closing <- row$without
    row$counted <- NA
    said <- counts[counts$date >= max(start, first) & counts$date <= end, ]
    if (nrow(said) > 0) {
      row$counted <- tail(said$date, 1)
      after <- buys$quantity[buys$date > row$counted & buys$date <= end]
      row$closing <- max(0, tail(said$quantity, 1) + sum(after) - use(r, m, row$counted + 1, end))
      if (method == "fifo" && row$closing < row$without) take(row$without - row$closing)
      if (method == "fifo" && row$closing > row$without) {
        lots <- rbind(lots, data.frame(left = row$closing - row$without, price = newest))
      }
    }
    row$value <- if (method == "fifo") sum(lots$left * lots$price) else row$closing * cost
    left <- row$closing
    rows <- c(rows, list(row))
  }
  list(rows = rows, buys = buys, counts = counts, opened = opened)
}

price <- function(s, m, month) { # of a base unit in the month that begins then
  if (is.null(s) || month < s$rows[[1]]$start) return(listed[[m]])
  for (row in s$rows) if (row$start <= month) p <- row$cost
  p
}

# --- what a period's report has to say -------------------------------------
report <- function(key, r, method, from, to) {
  shelves <- sapply(colnames(takes), function(m) shelf(r, m, method, to), simplify = FALSE)
  last <- as.Date(format(to, "%Y-%m-01"))
  before <- function(d) seq(as.Date(format(d, "%Y-%m-01")), by = "-1 month", length.out = 2)[2]
  differences <- 0
  for (m in colnames(takes)) {
    s <- shelves[[m]]
    if (is.null(s)) next
    rows <- Filter(function(row) row$end >= from, s$rows)
    earlier <- shelf(r, m, method, from - 1)
    at <- function(field, value) say(paste(key, "stock", m, field, sep = "/"), value)
    begin <- rows[[1]]$opening # nothing bought before the period: the first month's, less what it used till then
    if (rows[[1]]$start < from) begin <- max(0, begin - max(0, use(r, m, max(rows[[1]]$start, s$opened + 1), from - 1)))
    at("opening", if (is.null(earlier)) begin else tail(earlier$rows, 1)[[1]]$closing)
    at("purchased", sum(s$buys$quantity[s$buys$date >= from]))
    at("used", sum(sapply(rows, function(row) max(0, use(r, m, max(from, row$start, s$opened + 1), row$end)))))
    at("closing", tail(rows, 1)[[1]]$closing)
    at("value", tail(rows, 1)[[1]]$value)
    now <- s$buys[s$buys$date >= from, ]
    usual <- sapply(seq_len(nrow(now)), function(k) price(s, m, before(now$date[k])))
    at("price_variance", sum(now$landed - now$quantity * as.numeric(usual)))
    one <- tail(s$counts[s$counts$date < from, ], 1)
    two <- tail(s$counts[s$counts$date >= from, ], 1)
    actual <- variance <- NaN
    if (nrow(one) > 0 && nrow(two) > 0) {
      came <- sum(s$buys$quantity[s$buys$date > one$date & s$buys$date <= two$date])
      actual <- one$quantity + came - two$quantity
      variance <- (actual - use(r, m, one$date + 1, two$date)) * price(s, m, last)
    }
    at("actual_use", actual)
    at("usage_variance", variance)
    for (row in rows) if (!is.na(row$counted) && row$counted >= from) differences <- differences + (row$without - row$closing) * row$cost
  }
  say(paste(key, "totals/stock_differences", sep = "/"), differences)
  sold <- r$sales[r$sales$date >= from & r$sales$date <= to, ]
  say(paste(key, "totals", c("units", "gross_sales", "discounts", "net_sales"), sep = "/"),
    c(sum(sold$units), sum(sold$units * sold$price), sum(sold$off), sum(sold$net)))
  unit <- function(p, month) sapply(colnames(takes), function(m) takes[p, m] * price(shelves[[m]], m, month))
  for (p in rownames(takes)) {
    u <- unit(p, last)
    say(paste(key, "products", p, "unit_cost/total", sep = "/"), sum(u))
    say(paste(key, "products", p, "unit_cost/wax", sep = "/"), u[["Wax"]])
    sold <- r$sales[r$sales$product == p & r$sales$date >= from & r$sales$date <= to, ]
    if (nrow(sold) == 0) next
    cost <- 0
    for (k in seq_len(nrow(sold))) cost <- cost + sold$units[k] * sum(unit(p, as.Date(format(sold$date[k], "%Y-%m-01"))))
    net <- sum(sold$net)
    say(paste(key, "products", p, c("cost_of_sales", "fees", "gross_margin", "contribution"), sep = "/"),
      c(cost, sum(sold$fees), net - cost, net - sum(sold$fees) - cost))
    say(paste(key, "products", p, "margin_rate", sep = "/"), if (net > 0) (net - cost) / net else NaN)
  }
  buyers(paste(key, "split", sep = "/"), r$sales, unit, to)
  sold <- made(r)
  sold <- sold[sold$date <= to, ]
  m <- as.integer(format(sold$date, "%m"))
  season <- ifelse(sold$date < "2025-01-01", "2024/Autumn", ifelse(m <= 2, "2025/Winter", ifelse(m <= 5, "2026/Spring", ifelse(m <= 8, "2026/Summer", "2026/Autumn"))))
  for (s in unique(season)) {
    x <- sold[season == s, ]
    grams <- x$units * takes[x$product, "Oil"]
    month <- as.Date(format(x$date, "%Y-%m-01"))
    cost <- sum(grams * sapply(seq_along(month), function(k) price(shelves$Oil, "Oil", month[k])))
    say(paste(key, "use/Oil", s, c("grams", "ml", "cost"), sep = "/"), c(sum(grams), sum(grams) / 0.96, cost))
  }
}

# Colored against natural, and who buys what, over 24 months.
buyers <- function(key, sales, unit, to) {
  start <- if (format(to + 1, "%d") == "01") to + 1 else to
  start <- seq(start, by = "-24 months", length.out = 2)[2] + (format(to + 1, "%d") != "01")
  x <- sales[sales$date >= start & sales$date <= to, ]
  colored <- x$product == "PG"
  say(paste(key, "overall", c("colored", "natural"), sep = "/"), pmax(0, c(sum(x$units[colored]), sum(x$units[!colored]))))
  x <- x[!is.na(x$customer), ]
  d <- tapply(x$units * (x$product == "PG"), x$customer, sum)
  n <- tapply(x$units * (x$product != "PG"), x$customer, sum)
  cost <- sapply(seq_len(nrow(x)), function(k) x$units[k] * sum(unit(x$product[k], as.Date(format(x$date[k], "%Y-%m-01")))))
  groups <- list(natural_only = n > 0 & d <= 0, colored_only = d > 0 & n <= 0, both = d > 0 & n > 0)
  for (g in names(groups)) {
    of <- x$customer %in% names(d)[groups[[g]]]
    say(paste(key, "customers", g, c("count", "net_sales", "contribution"), sep = "/"),
      c(sum(groups[[g]]), sum(x$net[of]), sum((x$net - x$fees - cost)[of])))
  }
}

for (b in seq_len(books)) {
  r <- records(b %% 2 == 0)
  save <- function(x, name) write.csv(x, file.path(dir, paste0(b, "-", name, ".csv")), row.names = FALSE, na = "")
  save(written(r$sales), "sales")
  save(r$pours, "pours")
  packs <- r$buys$packs # glass comes in two sizes, and was bought in the smaller one
  packs <- ifelse(r$buys$material == "Glass", paste(packs, "x 1 ct"), ifelse(r$buys$liters, paste(packs, "L"), packs))
  save(data.frame(r$buys[c("date", "material")], packs, r$buys["paid"], freight = ifelse(r$buys$freight > 0, r$buys$freight, NA)), "purchases")
  save(data.frame(r$counts[c("date", "material")],
    quantity = paste(r$counts$quantity, ifelse(r$counts$material %in% c("Wax", "Oil"), "g", "ct"))), "counts")
  for (method in c("latest", "average", "fifo")) {
    for (i in seq_along(months)) report(paste(b, method, format(months[i], "%Y-%m"), sep = "/"), r, method, months[i], ends[i])
    report(paste(b, method, "year", sep = "/"), r, method, months[1], ends[10])
    report(paste(b, method, "part", sep = "/"), r, method, as.Date("2026-04-11"), as.Date("2026-09-17"))
  }
}
writeLines(out, file.path(dir, "expected.tsv"))
