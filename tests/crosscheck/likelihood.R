# Log-likelihoods of lives written down term by term, for what survreg does not fit: late entry, and the gamma law.

# A law by log scale and log shape: log density, and log of the fractions unfailed and failed.
laws <- list(
  weibull = list(
    density = function(t, a, e) dweibull(t, exp(e), exp(a), log = TRUE),
    fraction = function(t, a, e, unfailed) pweibull(t, exp(e), exp(a), lower.tail = !unfailed, log.p = TRUE)
  ),
  lognormal = list(
    density = function(t, a, e) dlnorm(t, a, exp(-e), log = TRUE),
    fraction = function(t, a, e, unfailed) plnorm(t, a, exp(-e), lower.tail = !unfailed, log.p = TRUE)
  ),
  "log-logistic" = list(
    density = function(t, a, e) dlogis(log(t), a, exp(-e), log = TRUE) - log(t),
    fraction = function(t, a, e, unfailed) plogis(log(t), a, exp(-e), lower.tail = !unfailed, log.p = TRUE)
  ),
  exponential = list(
    density = function(t, a, e) dexp(t, exp(-a), log = TRUE),
    fraction = function(t, a, e, unfailed) pexp(t, exp(-a), lower.tail = !unfailed, log.p = TRUE)
  ),
  gamma = list(
    density = function(t, a, e) dgamma(t, exp(e), scale = exp(a), log = TRUE),
    fraction = function(t, a, e, unfailed) pgamma(t, exp(e), scale = exp(a), lower.tail = !unfailed, log.p = TRUE)
  )
)

log_difference <- function(larger, smaller) larger + log(-expm1(smaller - larger))

log_likelihood <- function(law, lives) {
  exact <- lives$low == lives$high
  unfailed <- is.infinite(lives$high)
  within <- !exact & !unfailed
  function(at) {
    a <- at[1]
    e <- if (length(at) > 1) at[2] else 0
    sum <- sum(lives$count[exact] * law$density(lives$low[exact], a, e)) +
      sum(lives$count[unfailed] * law$fraction(lives$low[unfailed], a, e, TRUE)) -
      sum(lives$count * law$fraction(lives$entry, a, e, TRUE))
    if (!any(within)) return(sum)
    low <- lives$low[within]
    high <- lives$high[within]
    # The difference is taken in the tail that is the smaller.
    above <- log_difference(law$fraction(low, a, e, TRUE), law$fraction(high, a, e, TRUE))
    below <- log_difference(law$fraction(high, a, e, FALSE), law$fraction(low, a, e, FALSE))
    early <- law$fraction(high, a, e, FALSE) < log(0.5)
    sum + sum(lives$count[within] * ifelse(early, below, above))
  }
}
