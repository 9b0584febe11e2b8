# Turns the monthly wine sales of the R package forecast into a sales list and
# says what R makes of them. Nothing of the data is kept in this repository.
#
# wineind: bottles of up to one litre sold by Australian makers, January 1980 to
# August 1994 (Makridakis, Wheelwright, Hyndman 1998).
#
# Usage: Rscript wine.R FOLDER; writes sales.csv and expected.tsv there.
suppressMessages(library(forecast))
dir <- commandArgs(TRUE)[1]
m <- as.integer(round(cycle(wineind)))
y <- as.integer(floor(time(wineind) + 1e-6))
third <- m %% 3 + 1 # first, second and third month of a season
x <- data.frame(date = sprintf("%d-%02d-15", y, m), product = paste0("W", third), quantity = as.numeric(wineind), price = 1)
write.csv(x, file.path(dir, "sales.csv"), row.names = FALSE)

out <- character()
say <- function(..., value) out <<- c(out, paste(paste(..., sep = "/"), sprintf("%.17g", value), sep = "\t"))
say("index", sprintf("M%02d", 1:12), value = decompose(wineind, "multiplicative")$figure)
say("all/totals/units", value = sum(wineind))
say("all/products", paste0("W", 1:3), "units", value = tapply(wineind, third, sum))
say("months", y, sprintf("M%02d", m), value = as.numeric(wineind))
last <- window(wineind, c(1992, 9), c(1994, 8))
season <- rep(c("Winter", "Spring", "Summer", "Autumn"), each = 3)[cycle(last) %% 12 + 1]
sold <- tapply(last, list(season, cycle(last) %% 3 + 1), sum)
share <- (sold + 0.5) / (rowSums(sold) + 1.5)
for (s in rownames(share)) say(s, "demand", paste0("W", 1:3), "mean", value = 90 * share[s, ])
writeLines(out, file.path(dir, "expected.tsv"))
