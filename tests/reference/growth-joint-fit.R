# Made-up readings: 4 exposures, 2 coupons each, 2 gratings a coupon, every second coupon printed turned.
# Prints what tests/reference/growth-joint-fit.json holds. Run: Rscript growth-joint-fit.R
library(metafor, quietly = TRUE, warn.conflicts = FALSE)
options(digits = 12)
d <- data.frame(
  coupon = factor(rep(1:8, each = 2)),
  exposure = rep(c(1.6, 1.6, 2, 2, 2.5, 2.5, 3.1, 3.1), each = 2),
  group = rep(c("x-coarse", "x-fine"), 8),
  axis = rep(c("x", "y"), each = 2, times = 4),
  y = c(-20.1, -18.9, -24.6, -23.2, -11.5, -9.2, -17.9, -16.1, -4.4, -2.0, -6.8, -6.1, 5.3, 6.1, -0.6, 1.7),
  s = c(0.5, 0.6, 0.7, 0.5, 0.4, 0.6, 0.5, 0.5, 0.8, 0.6, 0.5, 0.7, 0.6, 0.6, 0.5, 0.4))
d$u <- log(d$exposure) - mean(log(d$exposure))
d$g <- ifelse(d$group == "x-coarse", 1, -1)
d$a <- ifelse(d$axis == "x", 0.5, -0.5)
d$v <- d$s^2
joint <- rma.mv(y, v, mods = ~ u + g + a, random = ~ 1 | coupon, data = d, method = "REML")
cat("joint", coef(joint), "\nse", sqrt(diag(vcov(joint))), "\ntau", sqrt(joint$sigma2), "\n")
# (lme of nlme 3.1.162 with sigma held at 1 finds 0.612 by REML.)
# One reading a coupon: the first grating of each.
one <- d[d$group == "x-coarse", ]
for (how in c("REML", "PM")) {
  m <- rma(y, v, mods = ~ u + a, data = one, method = how, control = list(threshold = 1e-12, tol = 1e-12))
  cat(how, coef(m), "\nse", sqrt(diag(vcov(m))), "\ntau2", m$tau2, "\n")
}
# Threshold model, stated noise of 1 um: nls on a blurred edge, with the profile limits of the size parameter.
e <- c(1.5, 1.9, 2.4, 3, 3.8); y <- c(-14.6, -2.4, 8.1, 13.5, 21.4); u <- log(e) - mean(log(e))
fit <- nls(y ~ -b * qnorm(exp(size - u) / 2), start = list(b = 30, size = -0.2), control = nls.control(tol = 1e-7, minFactor = 1e-9))
s <- summary(fit)
cat("threshold", coef(fit), "\nse for noise 1", s$coefficients[, 2] / s$sigma, "\nrss", deviance(fit), "\n")
rest <- function(size) optimize(function(b) sum((y + b * qnorm(exp(size - u) / 2))^2), c(5, 100), tol = 1e-12)$objective
limit <- function(from, to) uniroot(function(z) rest(z) - deviance(fit) - qnorm(0.975)^2, c(from, to), tol = 1e-12)$root
best <- coef(fit)[["size"]]
cat("profile", limit(best - 0.3, best), limit(best, best + 0.3), "\n")
cat(R.version.string, "metafor", format(packageVersion("metafor")), "\n")
