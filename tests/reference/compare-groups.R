# Makes compare-groups.json: Rscript tests/reference/compare-groups.R > tests/reference/compare-groups.json
# Debian 12 packages r-base-core, r-cran-lme4, r-cran-nlme, r-cran-lmertest; their versions stand in the result.
suppressPackageStartupMessages({library(lme4); library(lmerTest)})
data(Machines, package = "nlme")

num <- function(v) paste0("[", paste(formatC(v, digits = 12, format = "g"), collapse = ", "), "]")
int <- function(f) paste0("[", paste(as.integer(factor(f, levels = unique(f))) - 1L, collapse = ", "), "]")
chr <- function(v) paste0('"', v, '"')
obj <- function(...) { a <- c(...); paste0("{", paste0('"', names(a), '": ', a, collapse = ", "), "}") }

# Cell means of Machine, and the three differences with their Satterthwaite degrees of freedom.
machines <- function(d) {
  d$Worker <- factor(as.character(d$Worker)); d$Cell <- interaction(d$Worker, d$Machine, drop = TRUE)
  m <- lmer(score ~ 0 + Machine + (1 | Worker) + (1 | Cell), d, REML = TRUE,
            control = lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-10)))
  contrasts <- list(c(-1, 1, 0), c(-1, 0, 1), c(0, -1, 1))
  found <- sapply(contrasts, function(l) { r <- contest1D(m, l); c(r[["Estimate"]], r[["Std. Error"]], r[["df"]]) })
  v <- as.data.frame(VarCorr(m))
  of <- function(g) v$vcov[v$grp == g]
  obj(y = num(d$score), group = int(d$Machine), photo = int(d$Worker), bottle = int(d$Cell),
      means = num(fixef(m)), variances = num(c(of("Worker"), of("Cell"), of("Residual"))),
      differences = num(found[1, ]), standardErrors = num(found[2, ]), degreesOfFreedom = num(found[3, ]),
      logLikelihood = num(as.numeric(logLik(m))))
}
# The same by the other program, as a check of R against itself.
by_nlme <- nlme::lme(score ~ 0 + Machine, random = ~ 1 | Worker / Machine, data = as.data.frame(Machines))
nlme_sd <- as.numeric(nlme::VarCorr(by_nlme)[, "StdDev"])
nlme_sd <- nlme_sd[!is.na(nlme_sd)]

penicillin <- lmer(diameter ~ 1 + (1 | plate) + (1 | sample), Penicillin)
pv <- as.data.frame(VarCorr(penicillin))

w <- t.test(extra ~ group, sleep)
games_howell <- function(y, g) {
  n <- tapply(y, g, length); m <- tapply(y, g, mean); v <- tapply(y, g, var) / n; k <- length(n)
  p <- combn(k, 2)
  t(apply(p, 2, function(ij) {
    i <- ij[1]; j <- ij[2]; u <- sqrt(v[i] + v[j]); df <- (v[i] + v[j])^2 / (v[i]^2 / (n[i] - 1) + v[j]^2 / (n[j] - 1))
    d <- m[j] - m[i]; q <- qtukey(0.95, k, df) / sqrt(2)
    c(i - 1, j - 1, d, u, df, ptukey(abs(d) / u * sqrt(2), k, df, lower.tail = FALSE), d - q * u, d + q * u)
  }))
}
gh <- games_howell(PlantGrowth$weight, PlantGrowth$group)
ns <- c(2, 3, 4, 6, 10, 30)
power <- sapply(ns, function(n) power.t.test(n = n, sd = 1, power = 0.8)$delta)
power95 <- sapply(ns, function(n) power.t.test(n = n, sd = 1, power = 0.95)$delta)
k <- length(Nile); rss <- sapply(1:(k - 1), function(i) sum((Nile[1:i] - mean(Nile[1:i]))^2) + sum((Nile[(i + 1):k] - mean(Nile[(i + 1):k]))^2))

cat('{\n "name": "Welch, Games-Howell, power of the t-test, mixed models and a change of mean, by R",\n',
    ' "source": ', chr(paste0("compare-groups.R beside this file; ", R.version.string, "; lme4 ", packageVersion("lme4"),
    ", lmerTest ", packageVersion("lmerTest"), ", nlme ", packageVersion("nlme"),
    ". Data that come with R: sleep (Student 1908), PlantGrowth (Dobson 1983), Nile (Cobb 1978), Machines (Milliken and Johnson 1992), Penicillin (Davies and Goldsmith 1972)")), ',\n',
    ' "welch": ', obj(y = num(sleep$extra), group = int(sleep$group), t = num(-w$statistic), degreesOfFreedom = num(w$parameter), p = num(w$p.value), interval = num(-rev(w$conf.int))), ',\n',
    ' "gamesHowell": ', obj(y = num(PlantGrowth$weight), group = int(PlantGrowth$group), pairs = paste0("[", paste(apply(gh, 1, num), collapse = ", "), "]")), ',\n',
    ' "power": ', obj(n = num(ns), difference80 = num(power), difference95 = num(power95)), ',\n',
    ' "machines": ', machines(as.data.frame(Machines)), ',\n',
    ' "machinesByNlmeSd": ', num(nlme_sd), ',\n',
    ' "machinesUnbalanced": ', machines(as.data.frame(Machines)[-c(2, 3, 6, 19, 20, 41, 53, 54), ]), ',\n',
    ' "penicillin": ', obj(y = num(Penicillin$diameter), photo = int(Penicillin$plate), bottle = int(Penicillin$sample),
      mean = num(fixef(penicillin)), standardError = num(sqrt(diag(as.matrix(vcov(penicillin))))),
      variances = num(c(pv$vcov[pv$grp == "plate"], pv$vcov[pv$grp == "sample"], pv$vcov[pv$grp == "Residual"])),
      degreesOfFreedom = num(contest1D(penicillin, 1)[["df"]])), ',\n',
    ' "nile": ', obj(firstYear = "1871", y = num(Nile), lastBefore = as.character(which.min(rss) - 1), t = num(as.numeric(t.test(Nile[1:which.min(rss)], Nile[(which.min(rss) + 1):k], var.equal = TRUE)$statistic))), '\n}\n', sep = "")
