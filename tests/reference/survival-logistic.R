# Makes survival-logistic.json: Rscript tests/reference/survival-logistic.R > tests/reference/survival-logistic.json
# Debian 12 packages r-base-core and r-cran-brglm2; their versions stand in the result.
# The outcomes are made up by a rule (see `survives`), once separated and once with three outcomes turned over.
library(brglm2)

d <- expand.grid(um = c(102, 136, 204, 306, 408, 612, 816), s = c(1.6, 2, 2.5, 3.1, 3.9, 4.9))
d$size <- log(d$um)
d$dose <- log(d$s)
survives <- as.integer(log(d$um / 204) + log(d$s / 2.8) > 0)
turned <- survives
turned[c(3, 25, 30)] <- 1 - turned[c(3, 25, 30)]

# Independent of brglm2: the penalised log-likelihood itself, maximised by optim within the constraint a.b = m.
penalised <- function(b, X, y) {
  eta <- drop(X %*% b)
  p <- plogis(eta)
  sum(y * plogis(eta, log.p = TRUE) + (1 - y) * plogis(-eta, log.p = TRUE)) +
    as.numeric(determinant(crossprod(X, X * (p * (1 - p))))$modulus) / 2
}
constrained <- function(X, y, a, m, start) {
  # a[1] is 1: the constraint gives b[1] from the other two.
  f <- function(g) -penalised(c(m - sum(a[2:3] * g), g), X, y)
  best <- optim(start, f, control = list(maxit = 20000, reltol = 1e-15))
  for (i in 1:5) best <- optim(best$par, f, control = list(maxit = 20000, reltol = 1e-15))
  -best$value
}
profiled <- function(X, y, b, chance, size, dose) {
  # The one of size and dose that is NA is sought: its estimate and 95 % profile interval.
  m <- qlogis(chance)
  top <- penalised(b, X, y)
  row <- function(theta) if (is.na(dose)) c(1, size, theta) else c(1, theta, dose)
  excess <- function(theta) 2 * (top - constrained(X, y, row(theta), m, b[2:3])) - qchisq(0.95, 1)
  theta <- if (is.na(dose)) (m - b[1] - b[2] * size) / b[3] else (m - b[1] - b[3] * dose) / b[2]
  c(theta, uniroot(excess, c(theta - 1, theta), tol = 1e-9)$root, uniroot(excess, c(theta, theta + 2), tol = 1e-9)$root)
}
num <- function(v) paste0("[", paste(formatC(v, digits = 10, format = "g"), collapse = ", "), "]")
one <- function(y) {
  cs <- mean(d$size); cd <- mean(d$dose)
  X <- cbind(1, d$size - cs, d$dose - cd)
  fit <- glm(y ~ I(size - cs) + I(dose - cd), binomial, data = cbind(d, y), method = "brglmFit", type = "AS_mean",
             epsilon = 1e-12, maxit = 10000)
  b <- unname(coef(fit))
  at <- function(chance, um, s) {
    found <- profiled(X, y, b, chance, log(um) - cs, log(s) - cd)
    num(exp(found + (if (is.na(s)) cd else cs)))
  }
  paste0('{\n  "survives": [', paste(y, collapse = ", "), '],\n  "coefficients": ', num(b),
         ',\n  "standardErrors": ', num(unname(summary(fit)$coefficients[, 2])),
         ',\n  "penalisedLogLikelihood": ', num(penalised(b, X, y)),
         if (all(y == survives)) paste0(',\n  "exposure50At204Um": ', at(0.5, 204, NA)) else "",
         ',\n  "size50At2.8S": ', at(0.5, NA, 2.8), ',\n  "size95At2.8S": ', at(0.95, NA, 2.8), '\n }')
}
cat('{\n "name": "Firth logistic regression of made-up survivals, by R",\n',
    ' "source": "survival-logistic.R beside this file; ', R.version.string, '; brglm2 ', as.character(packageVersion("brglm2")),
    ' for the coefficients (AS_mean), base R optim and uniroot for the profile intervals (value, low, high). Invented outcomes.",\n',
    ' "nominalUm": ', num(d$um), ',\n "exposureS": ', num(d$s), ',\n',
    ' "separated": ', one(survives), ',\n "mixed": ', one(turned), '\n}\n', sep = "")
