# Works out the figures of every set of lives by R's own means. Arguments: folder of these scripts, table of lives, table to write.
# Lives: set, low, high (Inf: unfailed), entry, count, group, groups, cause (-1: none), causes.
# Written: set, kind, peer (what worked it out), name, value.
library(survival)
folders <- commandArgs(trailingOnly = TRUE)
for (script in c("likelihood.R", "fits.R", "curves.R", "turnbull.R")) source(file.path(folders[1], script))

figures <- function(kind, peer, names, values) {
  data.frame(kind = rep(kind, length(names)), peer = rep(peer, length(names)), name = names, value = as.numeric(values))
}

one_set <- function(lives) {
  late <- any(lives$entry > 0)
  known <- all(lives$high == lives$low | is.infinite(lives$high))
  found <- list(fits(lives, late))
  if (known) found <- c(found, curves(lives, late))
  if (!late && nrow(lives) <= 60) found <- c(found, turnbull(lives))
  found <- do.call(rbind, found)
  data.frame(set = rep(lives$set[1], nrow(found)), found)
}

lives <- read.csv(folders[2], colClasses = "numeric")
found <- do.call(rbind, lapply(split(lives, lives$set), one_set))
found <- found[!is.na(found$value), ]
found$value <- sprintf("%.17g", found$value)
write.csv(found, folders[3], row.names = FALSE, quote = FALSE)
