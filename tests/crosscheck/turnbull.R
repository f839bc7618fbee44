# Survival of greatest likelihood from intervals: by survfit, which stops early, and by the same self-consistent steps taken on until they settle.

turnbull <- function(lives) {
  ends <- sort(unique(lives$high[is.finite(lives$high)]))
  if (length(ends) == 0) return(list(figures("Turnbull", "by hand", c("converged", "log-likelihood"), c(1, 0))))
  at <- seq_along(ends) - 1
  own <- settled(lives)
  by_hand <- rbind(
    figures("Turnbull", "by hand", c("converged", "log-likelihood"), c(1, own$value)),
    figures("Turnbull", "by hand", paste("survival", at), sapply(ends, function(end) 1 - sum(own$mass[own$high <= end])))
  )
  # With no interval among the lives survfit adds a failure of its own.
  if (all(lives$high == lives$low | is.infinite(lives$high))) return(list(by_hand))
  fit <- survfit(Surv(low, ifelse(is.infinite(high), NA, high), type = "interval2") ~ 1, data = lives, weights = lives$count)
  list(by_hand, figures("Turnbull", "survfit", paste("survival", at), summary(fit, times = ends, extend = TRUE)$surv))
}

# Innermost intervals: a low end followed by a high end with no other between. Exact ages are intervals of no length.
innermost <- function(lives) {
  exact <- lives$low == lives$high
  ends <- rbind(
    data.frame(place = lives$low, after = !exact, opens = TRUE, zero = lives$low == 0),
    data.frame(place = lives$high, after = TRUE, opens = FALSE, zero = FALSE)
  )
  # Just before an exact age comes its start; just after any age come first the ends at it, then the starts of intervals above it.
  rank <- ifelse(!ends$after, 0, ifelse(ends$opens, 2, 1))
  ends <- ends[order(ends$place, rank), ]
  pairs <- which(ends$opens[-nrow(ends)] & !ends$opens[-1])
  data.frame(low = ends$place[pairs], high = ends$place[pairs + 1], exact = !ends$after[pairs])
}

settled <- function(lives) {
  atoms <- innermost(lives)
  may <- outer(seq_len(nrow(lives)), seq_len(nrow(atoms)), function(life, atom) {
    exact <- lives$low[life] == lives$high[life]
    ifelse(exact, atoms$exact[atom] & atoms$low[atom] == lives$low[life],
           (atoms$low[atom] >= lives$low[life]) & !(atoms$exact[atom] & atoms$low[atom] == lives$low[life]) &
             atoms$high[atom] <= lives$high[life])
  })
  share <- lives$count / sum(lives$count)
  mass <- rep(1 / nrow(atoms), nrow(atoms))
  for (step in 1:20000) {
    chance <- as.vector(may %*% mass)
    stepped <- mass * as.vector(crossprod(may, share / chance))
    moved <- max(abs(stepped - mass))
    mass <- stepped
    if (moved < 1e-14) break
  }
  list(mass = mass, high = atoms$high, value = sum(lives$count * log(as.vector(may %*% mass))))
}
