# Kaplan-Meier, Nelson-Aalen, log-rank and Aalen-Johansen of lives whose ends are known.

curves <- function(lives, late) {
  # Each life a row: the errors of Aalen-Johansen are those of leaving out lives, and survdiff takes no counts.
  each <- lives[rep(seq_len(nrow(lives)), lives$count), ]
  each$failed <- as.numeric(each$low == each$high)
  list(
    survival_curve(each, late), hazard_curve(each, late), incidence_curves(each, late),
    rank_test(each, late, 0), rank_test(each, late, 1)
  )
}

watched <- function(each, late, status) if (late) Surv(each$entry, each$low, status) else Surv(each$low, status)

survival_curve <- function(each, late) {
  fit <- survfit(watched(each, late, each$failed) ~ 1, conf.type = "log-log", timefix = FALSE)
  at <- seq_along(fit$time) - 1
  # survfit's error is that of log S.
  rbind(
    figures("Kaplan-Meier", "survfit", paste("at risk", at), fit$n.risk),
    figures("Kaplan-Meier", "survfit", paste("survival", at), fit$surv),
    figures("Kaplan-Meier", "survfit", paste("s.e.", at), ifelse(fit$surv > 0, fit$surv * fit$std.err, NA)),
    figures("Kaplan-Meier", "survfit", paste("low", at), ifelse(fit$surv > 0 & fit$surv < 1, fit$lower, NA)),
    figures("Kaplan-Meier", "survfit", paste("high", at), ifelse(fit$surv > 0 & fit$surv < 1, fit$upper, NA))
  )
}

hazard_curve <- function(each, late) {
  fit <- survfit(watched(each, late, each$failed) ~ 1, ctype = 1, timefix = FALSE)
  at <- seq_along(fit$time) - 1
  rbind(
    figures("Nelson-Aalen", "survfit", paste("hazard", at), fit$cumhaz),
    figures("Nelson-Aalen", "survfit", paste("s.e.", at), fit$std.chaz)
  )
}

incidence_curves <- function(each, late) {
  causes <- seq_len(each$causes[1]) - 1
  status <- factor(each$cause, levels = c(-1, causes), labels = c("none", paste0("cause", causes)))
  if (late) {
    life <- seq_len(nrow(each))
    fit <- survfit(watched(each, late, status) ~ 1, id = life, timefix = FALSE)
  } else {
    fit <- survfit(watched(each, late, status) ~ 1, timefix = FALSE)
  }
  at <- seq_along(fit$time) - 1
  do.call(rbind, lapply(causes, function(cause) {
    column <- match(paste0("cause", cause), fit$states)
    rbind(
      figures("incidence", "survfit", paste("incidence of cause", cause, at), fit$pstate[, column]),
      figures("incidence s.e.", "survfit", paste("s.e. of cause", cause, at), fit$std.err[, column])
    )
  }))
}

rank_test <- function(each, late, rho) {
  used <- sort(unique(each$group))
  peer <- if (late || length(used) < 2) "by hand" else "survdiff"
  test <- if (peer == "by hand") rank_sums(each, used, rho) else by_survdiff(each, rho)
  groups <- seq_len(each$groups[1]) - 1
  of_all <- function(values) ifelse(groups %in% used, values[match(groups, used)], 0)
  rbind(
    figures("log-rank", peer, paste0("rho ", rho, " observed ", groups), of_all(test$observed)),
    figures("log-rank", peer, paste0("rho ", rho, " expected ", groups), of_all(test$expected)),
    figures("log-rank", peer, paste0("rho ", rho, c(" degrees", " chi-square")), c(test$degrees, test$chi_square))
  )
}

by_survdiff <- function(each, rho) {
  # The order of the ages is all that counts; survdiff takes ages that are nearly equal for equal, which their ranks are not.
  each$rank <- match(each$low, sort(unique(each$low)))
  fit <- suppressWarnings(survdiff(Surv(rank, failed) ~ group, data = each, rho = rho))
  # survdiff counts a degree for a group that is never at risk beside another, and gives a statistic where nothing can be compared.
  degrees <- qr(fit$var)$rank
  list(observed = fit$obs, expected = fit$exp, degrees = degrees, chi_square = if (degrees > 0) fit$chisq else NA)
}

# survdiff takes no late entry, and no single group: the sums over failure ages, written out.
rank_sums <- function(each, used, rho) {
  observed <- expected <- numeric(length(used))
  covariance <- matrix(0, length(used), length(used))
  survival <- 1
  for (time in sort(unique(each$low[each$failed == 1]))) {
    at_risk <- each$entry < time & time <= each$low
    fails <- at_risk & each$low == time & each$failed == 1
    n <- sapply(used, function(group) sum(at_risk & each$group == group))
    d <- sapply(used, function(group) sum(fails & each$group == group))
    share <- n / sum(n)
    weight <- survival^rho
    observed <- observed + weight * d
    expected <- expected + weight * sum(d) * share
    if (sum(n) > 1) {
      spread <- sum(d) * (sum(n) - sum(d)) / (sum(n) - 1)
      covariance <- covariance + weight^2 * spread * (diag(share, length(share)) - share %o% share)
    }
    survival <- survival * (1 - sum(d) / sum(n))
  }
  parts <- eigen(covariance, symmetric = TRUE)
  kept <- parts$values > 1e-9 * max(parts$values)
  along <- crossprod(parts$vectors[, kept, drop = FALSE], observed - expected)
  list(observed = observed, expected = expected, degrees = sum(kept),
       chi_square = if (any(kept)) sum(along^2 / parts$values[kept]) else NA)
}
