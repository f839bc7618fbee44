# Rebuilds reference-lives.csv, reference-fits.csv and reference-intervals.csv beside this file: Rscript reference-fits.R
# R 4.2.2, survival 3.5-3. The lives are made up. Fits without late entry: survreg; those of gamma, and with late entry: optim on the
# likelihood written out below. Limits: optimize over log shape (tol 1e-12) at a held value, ends by uniroot (tol 1e-13).
library(survival)

exact <- cbind(low = c(120, 250, 310, 455, 520, 610, 700, 810, 905, 1100), high = NA, entry = 0, count = c(1, 2, rep(1, 8)))
exact[, "high"] <- exact[, "low"]
removed <- cbind(low = c(300, 500, 800, 1200), high = Inf, entry = 0, count = c(1, 1, 3, 2))
before <- cbind(low = 0, high = c(200, 450), entry = 0, count = c(1, 2))
within <- cbind(low = c(400, 700, 1000), high = c(600, 900, 1400), entry = 0, count = c(1, 2, 1))
late <- function(lives) {
  entered <- c("310" = 100, "520" = 400, "905" = 850, "800" = 200, "1200" = 1000, "700" = 500)
  found <- entered[as.character(lives[, "low"])]
  lives[, "entry"] <- ifelse(is.na(found), 0, found)
  lives
}
sets <- list(
  exact = exact, removed = rbind(exact, removed), before = rbind(exact, before), within = rbind(removed, before, within),
  mixed = rbind(exact, removed, before, within), late = late(rbind(exact, removed)),
  late_mixed = late(rbind(exact, removed, before, within))
)

# Log density of the age, log survival, log failed at log scale a and log shape e.
families <- list(
  weibull = list(
    d = function(t, a, e) dweibull(t, exp(e), exp(a), log = TRUE),
    s = function(t, a, e) pweibull(t, exp(e), exp(a), lower.tail = FALSE, log.p = TRUE),
    q = function(p, e) log(qweibull(p, exp(e))), m = function(e) lgamma(1 + exp(-e))
  ),
  exponential = list(
    d = function(t, a, e) dexp(t, exp(-a), log = TRUE), s = function(t, a, e) -t * exp(-a),
    q = function(p, e) log(-log1p(-p)), m = function(e) 0
  ),
  lognormal = list(
    d = function(t, a, e) dlnorm(t, a, exp(-e), log = TRUE),
    s = function(t, a, e) plnorm(t, a, exp(-e), lower.tail = FALSE, log.p = TRUE),
    q = function(p, e) qnorm(p) * exp(-e), m = function(e) exp(-2 * e) / 2
  ),
  "log-logistic" = list(
    d = function(t, a, e) dlogis(log(t), a, exp(-e), log = TRUE) - log(t),
    s = function(t, a, e) plogis(log(t), a, exp(-e), lower.tail = FALSE, log.p = TRUE),
    q = function(p, e) qlogis(p) * exp(-e),
    m = function(e) ifelse(e > 0, log(pi * exp(-e) / sin(pi * exp(-e))), Inf)
  ),
  gamma = list(
    d = function(t, a, e) dgamma(t, exp(e), scale = exp(a), log = TRUE),
    s = function(t, a, e) pgamma(t, exp(e), scale = exp(a), lower.tail = FALSE, log.p = TRUE),
    q = function(p, e) log(qgamma(p, exp(e))), m = function(e) e
  )
)

likelihood <- function(lives, family, a, e) {
  f <- families[[family]]
  ends <- lives[, "low"] == lives[, "high"]
  below <- f$s(lives[, "low"], a, e)
  above <- f$s(lives[, "high"], a, e)
  above[lives[, "high"] == Inf] <- -Inf
  terms <- ifelse(ends, f$d(lives[, "low"], a, e), below + log1p(-exp(pmin(above - below, -1e-300))))
  sum(lives[, "count"] * (terms - f$s(lives[, "entry"], a, e)))
}

# Newton on differences of the likelihood, from where optim ends.
hessian <- function(f, x, h = 1e-4) {
  n <- length(x)
  second <- matrix(0, n, n)
  at <- function(i, j, u, v) { y <- x; y[i] <- y[i] + u; y[j] <- y[j] + v; f(y) }
  once <- function(h) {
    for (i in 1:n) for (j in 1:n) {
      second[i, j] <- (at(i, j, h, h) - at(i, j, h, -h) - at(i, j, -h, h) + at(i, j, -h, -h)) / (4 * h^2)
    }
    second
  }
  (4 * once(h * 4) - once(h * 8)) / 3
}

fit <- function(lives, family) {
  one <- family == "exponential"
  f <- function(x) -likelihood(lives, family, x[1], if (one) 0 else x[2])
  start <- if (one) log(700) else c(if (family == "gamma") log(300) else log(700), log(1.5))
  best <- optim(start, f, method = "BFGS", control = list(reltol = 1e-14, maxit = 1000))$par
  for (k in 1:3) {
    h <- 1e-3
    g <- sapply(seq_along(best), function(i) {
      d <- replace(0 * best, i, h)
      (8 * (f(best + d) - f(best - d)) - (f(best + 2 * d) - f(best - 2 * d))) / (12 * h)
    })
    best <- best - solve(hessian(f, best), g)
  }
  v <- solve(hessian(f, best))
  list(source = "optim", a = best[1], e = if (one) 0 else best[2], loglik = -f(best), vaa = v[1, 1],
       vae = if (one) 0 else v[1, 2], vee = if (one) 0 else v[2, 2])
}

by_survreg <- function(lives, family) {
  used <- data.frame(lives)
  used$from <- ifelse(used$low == 0, NA, used$low)
  used$to <- ifelse(used$high == Inf, NA, used$high)
  found <- survreg(Surv(from, to, type = "interval2") ~ 1, used, weights = count, dist = sub("-", "", family),
                   control = list(rel.tolerance = 1e-14, iter.max = 100))
  one <- family == "exponential"
  v <- found$var
  list(source = "survreg", a = unname(coef(found)), e = if (one) 0 else -log(found$scale), loglik = found$loglik[2],
       vaa = v[1, 1], vae = if (one) 0 else -v[1, 2], vee = if (one) 0 else v[2, 2])
}

own <- do.call(rbind, lapply(names(sets), function(set) do.call(rbind, lapply(names(families), function(family) {
  lives <- sets[[set]]
  plain <- fit(lives, family)
  found <- if (family != "gamma" && all(lives[, "entry"] == 0)) by_survreg(lives, family) else plain
  # survreg leaves interval weights' likelihood as it is, so both must agree.
  stopifnot(abs(found$loglik - plain$loglik) < 1e-7, abs(found$a - plain$a) < 1e-6, abs(found$vaa / plain$vaa - 1) < 1e-4)
  data.frame(set, family, found)
}))))

intervals <- function(lives, family, best, quantity) {
  f <- families[[family]]
  working <- function(a, e) switch(quantity,
    shape = e, scale = a, L10 = a + f$q(0.1, e), mean = a + f$m(e), survival = log(-f$s(300, a, e)),
    conditional = log(f$s(400, a, e) - f$s(700, a, e)))
  bounded <- function(x) if (is.nan(x)) 1e6 else max(min(x, 1e6), -1e6)
  # A log-logistic life's hazard by log age is at most its shape: there may be no scale that gives the value.
  solved <- function(f) if (f(-2000) < 0) NA else uniroot(f, c(-2000, 60), tol = 1e-14)$root
  at <- function(value, e) switch(quantity,
    scale = value, L10 = value - f$q(0.1, e), mean = value - f$m(e),
    solved(function(a) bounded(working(a, e)) - value))
  range <- if (family == "log-logistic" && quantity == "mean") c(1e-9, log(50)) else c(log(0.02), log(60))
  profile <- function(value) {
    if (family == "exponential") return(likelihood(lives, family, at(value, 0), 0))
    if (quantity == "shape") return(optimize(function(a) likelihood(lives, family, a, value), best$a + c(-6, 6), maximum = TRUE, tol = 1e-12)$objective)
    near <- if (quantity %in% c("survival", "conditional")) pmax(pmin(best$e + c(-2, 2), range[2]), range[1]) else range
    optimize(function(e) {
      a <- at(value, e)
      if (is.na(a)) -1e6 * (10 - e) else max(likelihood(lives, family, a, e), -1e6, na.rm = TRUE)
    }, near, maximum = TRUE, tol = 1e-12)$objective
  }
  middle <- working(best$a, best$e)
  end <- function(side) {
    short <- function(reach) 2 * (best$loglik - profile(middle + side * reach)) - qchisq(0.95, 1)
    middle + side * uniroot(short, c(1e-3, 4), extendInt = "upX", tol = 1e-13)$root
  }
  back <- if (quantity %in% c("survival", "conditional")) function(x) exp(-exp(x)) else exp
  ends <- sort(back(c(end(-1), end(1))))
  data.frame(family, quantity, estimate = back(middle), low = ends[1], high = ends[2])
}

limits <- do.call(rbind, lapply(c("removed", "late"), function(set) do.call(rbind, lapply(names(families), function(family) {
  best <- fit(sets[[set]], family)
  quantities <- c(if (family != "exponential") "shape", "scale", "L10", "mean", "survival", "conditional")
  data.frame(set, do.call(rbind, lapply(quantities, function(quantity) intervals(sets[[set]], family, best, quantity))))
}))))

lives <- do.call(rbind, lapply(names(sets), function(set) data.frame(set, sets[[set]])))
write.csv(lives, "reference-lives.csv", row.names = FALSE, quote = FALSE)
write.csv(format(own, digits = 12, trim = TRUE), "reference-fits.csv", row.names = FALSE, quote = FALSE)
write.csv(format(limits, digits = 12, trim = TRUE), "reference-intervals.csv", row.names = FALSE, quote = FALSE)
