# Fits pooled seasons with lme4, an independent program (CRAN): bundles (bale, grower, site, e) and bales
# (bale, w), rows whitened by sqrt(sum e^2). Usage:
#   Rscript compare_lme4.R FOLDER COUNT
# reads FOLDER/bundles_<k>.csv and FOLDER/bales_<k>.csv for k = 1 .. COUNT and writes
# FOLDER/lme4_<k>.csv: mu, sd_grower, sd_site, sd_bundle, reml, seconds, then u by grower.
suppressMessages({library(lme4); library(Matrix)})
arguments <- commandArgs(trailingOnly = TRUE)
folder <- arguments[1]
pooled_lmer <- function(w, E, q, Ztl) {
  n <- length(w); s <- 1 / sqrt(q); X <- cbind(mu = E * s); attr(X, "assign") <- 1L
  Zs <- lapply(Ztl, function(z) z %*% Diagonal(x = s)); nl <- vapply(Zs, nrow, 1L)
  fl <- lapply(nl, function(k) factor(rep_len(seq_len(min(k, n)), n), levels = seq_len(k)))
  attr(fl, "assign") <- seq_along(fl); cn <- lapply(nl, function(k) "(Intercept)")
  Q <- sum(nl)
  re <- list(Zt = do.call(rbind, Zs), theta = rep(1, length(nl)),
    Lind = as.integer(rep(seq_along(nl), nl)), Gp = c(0L, as.integer(cumsum(nl))),
    lower = rep(0, length(nl)), Lambdat = sparseMatrix(1:Q, 1:Q, x = rep(1, Q)),
    flist = fl, cnms = cn)
  fr <- data.frame(y = w * s); attr(fr, "terms") <- terms(y ~ 1)
  dev <- mkLmerDevfun(fr, X, re, REML = TRUE)
  opt <- optimizeLmer(dev, optimizer = "bobyqa", control = list(rhoend = 1e-10))
  mkMerMod(environment(dev), opt, re, fr)
}
for (k in seq_len(as.integer(arguments[2]))) {
  B <- read.csv(file.path(folder, sprintf("bundles_%d.csv", k)))
  w <- read.csv(file.path(folder, sprintf("bales_%d.csv", k)))$w
  n <- length(w)
  by_bale <- function(x) as.vector(rowsum(x, B$bale, reorder = TRUE))
  Zt <- function(f, levels) sparseMatrix(i = f, j = B$bale, x = B$e, dims = c(levels, n))
  seconds <- system.time(m <- pooled_lmer(w, by_bale(B$e), by_bale(B$e^2),
    list(grower = Zt(B$grower, max(B$grower)), site = Zt(B$site, max(B$site)))))[["elapsed"]]
  sds <- getME(m, "theta") * sigma(m)
  answers <- c(fixef(m), sds, sigma(m), REMLcrit(m), seconds, ranef(m)$grower[, 1])
  writeLines(c("value", format(answers, digits = 16)), file.path(folder, sprintf("lme4_%d.csv", k)))
}
