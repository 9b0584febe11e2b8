# Makes up markets and what was sold at them, and says how much the next one is
# expected to sell and how widely such totals vary.
#
# Usage: Rscript markets.R FOLDER BOOKS; writes BOOK-markets.csv, BOOK-sales.csv
# and expected.tsv there. The market to plan for is "Next" or a name met before.
dir <- commandArgs(TRUE)[1]
books <- as.integer(commandArgs(TRUE)[2])
set.seed(21)
out <- character()
say <- function(key, value) out <<- c(out, paste(key, sprintf("%.17g", value), sep = "\t"))
season <- function(d) (as.integer(format(d, "%m")) %% 12) %/% 3
goal <- as.Date("2026-07-11")
for (b in seq_len(books)) {
  n <- sample(c(1:4, 8:14), 1)
  kept <- if (n < 5) 1 else sample(2:5, 1)
  m <- data.frame(market = sample(c("Hall", "Quay", "Green", "Mill", "Yard")[1:kept], n, TRUE),
    date = as.Date("2024-02-03") + 7 * sort(sample(0:115, n)), days = sample(1:3, n, TRUE))
  m$sold <- 0
  lines <- NULL
  wide <- runif(1, 0.02, 0.9)
  for (i in seq_len(n)) {
    if (runif(1) < 0.1) next # a market that sold nothing
    units <- pmax(1, round(rnorm(2, 40, 40 * wide)))
    day <- m$date[i] + sample(0:(m$days[i] - 1), 2, TRUE) + sample(c(0, 0, 2), 1) # some of it written down days later
    x <- data.frame(date = day, product = c("S", "L"), quantity = units, price = 10, channel = "Stall", market = m$market[i])
    if (runif(1) < 0.3) x <- rbind(x, within(x[1, ], quantity <- -if (runif(1) < 0.3) units[1] + 4 else 1))
    lines <- rbind(lines, x)
  }
  # every line belongs to the date of its market that holds it, else to the nearest
  for (p in c("S", "L")) {
    total <- rep(0, n)
    for (k in which(lines$product == p)) {
      off <- abs(as.integer(m$date - lines$date[k]))
      off[lines$date[k] >= m$date & lines$date[k] < m$date + m$days] <- 0
      off[m$market != lines$market[k]] <- Inf
      total[which.min(off)] <- total[which.min(off)] + lines$quantity[k]
    }
    m$sold <- m$sold + pmax(0, total)
  }
  met <- m[m$sold > 0, ]
  name <- if (runif(1) < 0.3) sample(m$market, 1) else "Next"
  like <- if (runif(1) < 0.3) sample(m$market, 1) else ""
  growth <- sample(c(NA, 10, -5, 25), 1)
  of <- if (any(met$market == like)) tail(met[met$market == like, ], 1) else if (any(met$market == name)) tail(met[met$market == name, ], 1) else
    if (any(season(met$date) == season(goal))) tail(met[season(met$date) == season(goal), ], 6) else tail(met, 6)
  say(paste(b, "expected_total", sep = "/"), (1 + ifelse(is.na(growth), 0, growth) / 100) * mean(of$sold))
  r <- 4
  if (nrow(met) >= 3) {
    often <- met[met$market %in% names(which(table(met$market) >= 2)), ]
    if (nrow(often) < 3) often <- transform(met, market = "any")
    x <- often$sold / ave(often$sold, often$market)
    bracket <- sum((x - 1)^2) / (nrow(often) - length(unique(often$market))) - 1 / mean(often$sold)
    r <- if (bracket <= 0) 50 else min(50, max(2, 1 / bracket))
  }
  say(paste(b, "demand", c("S", "L"), "r", sep = "/"), c(r, r))
  row <- data.frame(market = c(m$market, name), date = c(m$date, goal), days = c(m$days, 1), channel = "Stall", expected = NA,
    like = c(rep(NA, n), like), growth = c(rep(NA, n), growth))
  write.csv(row, file.path(dir, paste0(b, "-markets.csv")), row.names = FALSE, na = "")
  write.csv(lines, file.path(dir, paste0(b, "-sales.csv")), row.names = FALSE, na = "")
}
writeLines(out, file.path(dir, "expected.tsv"))
