# Fits of every law: by survreg, and by optim where there is late entry, for the gamma law, and where survreg finds nothing.

survreg_names <- c(weibull = "weibull", lognormal = "lognormal", "log-logistic" = "loglogistic", exponential = "exponential")

fits <- function(lives, late) {
  # Of order 1, where both of R's searches converge; the unit is put back into log scale and log-likelihood afterwards.
  unit <- 10^round(log10(median(ifelse(is.infinite(lives$high), lives$low, lives$high))))
  for (column in c("low", "high", "entry")) lives[[column]] <- lives[[column]] / unit
  exact <- sum(lives$count[lives$low == lives$high])
  found <- lapply(names(laws), function(name) {
    fit <- if (!late && name != "gamma") by_survreg(name, lives)
    peer <- "survreg"
    if (is.null(fit)) {
      fit <- by_optim(name, lives)
      peer <- "optim"
    }
    if (is.null(fit)) return(NULL)
    free <- length(fit$at) > 1
    rbind(
      figures("estimates", peer, paste(name, c("log scale", if (free) "log shape")), fit$at + c(log(unit), if (free) 0)),
      figures("covariance", peer, paste(name, c("var log scale", if (free) c("cov", "var log shape"))),
              if (free) fit$covariance[c(1, 2, 4)] else fit$covariance[1]),
      figures("log-likelihood", peer, paste(name, "log-likelihood"), fit$value - exact * log(unit))
    )
  })
  do.call(rbind, found)
}

by_survreg <- function(name, lives) {
  low <- ifelse(lives$low == 0, NA, lives$low)
  high <- ifelse(is.infinite(lives$high), NA, lives$high)
  fit <- tryCatch(
    suppressWarnings(survreg(Surv(low, high, type = "interval2") ~ 1, weights = lives$count, dist = survreg_names[[name]],
                             control = survreg.control(rel.tolerance = 1e-14, maxiter = 200))),
    error = function(said) NULL
  )
  if (is.null(fit) || any(!is.finite(c(fit$coefficients, fit$scale, fit$var, fit$loglik[2])))) return(NULL)
  if (abs(fit$coefficients) > 50 || fit$scale > 1e4 || fit$scale < 1e-4) return(NULL)
  if (name == "exponential") return(list(at = unname(fit$coefficients), covariance = fit$var, value = fit$loglik[2]))
  # survreg's scale is 1 / shape: log shape is its log with the sign turned, and so is the covariance with it.
  list(at = c(unname(fit$coefficients), -log(fit$scale)), covariance = fit$var * matrix(c(1, -1, -1, 1), 2), value = fit$loglik[2])
}

by_optim <- function(name, lives) {
  fits_shape <- name != "exponential"
  value <- log_likelihood(laws[[name]], lives)
  minus <- function(at) {
    value <- suppressWarnings(-value(at))
    if (is.finite(value)) value else 1e10
  }
  middle <- log(ifelse(is.infinite(lives$high), lives$low, (lives$low + lives$high) / 2))
  at <- c(mean(middle), if (fits_shape) 0)
  for (turn in 1:2) {
    climbed <- optim(at, minus, method = "BFGS", control = list(reltol = 1e-14, maxit = 1000))
    at <- climbed$par
    if (!fits_shape) next
    climbed <- optim(at, minus, method = "Nelder-Mead", control = list(reltol = 1e-14, maxit = 5000))
    at <- climbed$par
  }
  curvature <- optimHess(at, minus, control = list(ndeps = rep(1e-4, length(at))))
  covariance <- tryCatch(solve(curvature), error = function(said) NULL)
  if (is.null(covariance) || any(diag(covariance) <= 0)) return(NULL)
  list(at = at, covariance = covariance, value = -climbed$value)
}
