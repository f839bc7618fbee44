# Times R's own way of doing what the program does. Arguments: job, folder with columns as raw numbers, number of lives.
# in-process prints a line "name seconds CPU-seconds" each; whole and groups are timed from outside, as whole processes.
library(survival)
arguments <- commandArgs(trailingOnly = TRUE)
size <- as.integer(arguments[3])
column <- function(name, what) readBin(file.path(arguments[2], name), what, size)
seconds <- function(name, job) {
  took <- system.time(job, gcFirst = TRUE)
  cat(name, took[["elapsed"]], took[["user.self"]] + took[["sys.self"]], "\n")
}

if (arguments[1] == "mean-count") {
  id <- column("id", "integer")
  from <- column("start", "double")
  to <- column("stop", "double")
  event <- column("event", "integer")
  seconds("mean-count", survfit(Surv(from, to, event) ~ 1, id = id))
  quit(save = "no")
}

lives <- data.frame(time = column("time", "double"), failed = column("failed", "integer"), group = column("group", "integer"))

switch(arguments[1],
  "in-process" = {
    exact <- column("exact", "double")
    sample <- lives[1:200, ]
    seconds("weibull-ties", survreg(Surv(time, failed) ~ 1, lives))
    seconds("weibull-untied", survreg(Surv(exact, lives$failed) ~ 1))
    seconds("kaplan-meier", survfit(Surv(time, failed) ~ 1, lives))
    seconds("log-rank", survdiff(Surv(time, failed) ~ group, lives))
    known <- data.frame(regressed = column("regressed", "double"), failed = lives$failed, play = column("play", "double"))
    known[c("lube", "ring")] <- list(column("lube", "double"), column("ring", "double"))
    seconds("accelerated-life", survreg(Surv(regressed, failed) ~ play + lube + ring, known))
    seconds("proportional-hazards", coxph(Surv(regressed, failed) ~ play + lube + ring, known))
    seconds("bootstrap", for (draw in 1:1000) survreg(Surv(time, failed) ~ 1, sample[sample.int(200, replace = TRUE), ]))
  },
  whole = {
    print(survreg(Surv(time, failed) ~ 1, lives))
    print(survfit(Surv(time, failed) ~ 1, lives))
  },
  groups = {
    fits <- lapply(split(lives, lives$group), function(own) {
      fit <- survreg(Surv(time, failed) ~ 1, own)
      c(fit$coefficients, fit$scale)
    })
    print(head(do.call(rbind, fits)))
  }
)
