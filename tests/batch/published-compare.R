# SPDX-License-Identifier: GPL-3.0-or-later
# Makes tests/data/published/compare.csv and compare.json: data sets that come with R, and what R says about them. Written
# from the definitions, without Fettle; run by hand in this folder: Rscript published-compare.R
#
# Sources of the data sets, as R gives them: sleep: Cushny and Peebles 1905, Student 1908; PlantGrowth: Dobson 1983, An
# Introduction to Statistical Modelling; chickwts: Anscombe 1973, McNeil 1977, Interactive Data Analysis (the first nine
# of each feed, so that all arrangements can be looked at).
folder <- "../data/published/"
sets <- list(
  sleep = list(before = sleep$extra[sleep$group == 1], after = sleep$extra[sleep$group == 2]),
  plants = list(before = with(PlantGrowth, weight[group == "trt1"]), after = with(PlantGrowth, weight[group == "trt2"])),
  control = list(before = with(PlantGrowth, weight[group == "ctrl"]), after = with(PlantGrowth, weight[group == "trt2"])),
  chicks = list(before = with(chickwts, weight[feed == "linseed"])[1:9], after = with(chickwts, weight[feed == "soybean"])[1:9]))

# All arrangements of the pooled values. An effect d is kept when neither one-sided test at 2.5 % rejects it: the share of
# arrangements that, with d taken off the values after, lie at least as far out as the one seen.
permutation <- function(before, after) {
  values <- c(before, after)
  n <- length(after)
  seen <- length(before) + seq_len(n)
  chosen <- combn(length(values), n)
  sums <- colSums(matrix(values[chosen], nrow = n))
  kept <- colSums(matrix(chosen %in% seen, nrow = n))
  differences <- sums / n - (sum(values) - sums) / length(before)
  observed <- mean(after) - mean(before)
  p <- mean(abs(differences) >= abs(observed) - 1e-9)
  slack <- 1e-9
  above <- function(d) mean(sums - d * kept >= sum(after) - d * n - slack)
  below <- function(d) mean(sums - d * kept <= sum(after) - d * n + slack)
  edge <- function(out, inside, share) {
    for (i in 1:80) {
      middle <- (out + inside) / 2
      if (share(middle) > 0.025) inside <- middle else out <- middle
    }
    inside
  }
  far <- 10 * diff(range(values))
  list(p = p, low = edge(observed - far, observed, above), high = edge(observed + far, observed, below))
}

answers <- lapply(sets, function(set) {
  welch <- t.test(set$after, set$before)
  c(list(welch_p = welch$p.value, welch_low = welch$conf.int[1], welch_high = welch$conf.int[2]),
    permutation(set$before, set$after))
})
p <- sapply(answers, function(answer) answer$welch_p)
holm <- p.adjust(p, "holm")
rows <- do.call(rbind, lapply(names(sets), function(name) rbind(
  data.frame(set = name, side = "before", value = sets[[name]]$before),
  data.frame(set = name, side = "after", value = sets[[name]]$after))))
write.csv(rows, paste0(folder, "compare.csv"), row.names = FALSE, quote = FALSE, eol = "\n")
said <- sapply(names(answers), function(name) {
  answer <- c(answers[[name]], holm = unname(holm[name]))
  figures <- sprintf('"%s": %.15g', names(answer), unlist(answer))
  sprintf('  "%s": {%s}', name, paste(figures, collapse = ", "))
})
writeLines(c("{", sprintf('  "made_by": "%s",', R.version.string), paste(said, collapse = ",\n"), "}"), paste0(folder, "compare.json"))
