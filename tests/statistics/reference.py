"""Answers the questions on standard input (JSON) with NumPy and SciPy; used by reference-program.test.ts."""
import json
import math
import sys

import numpy as np
from scipy import optimize, special, stats


def mann_kendall(values):
    return float(stats.kendalltau(np.arange(len(values)), values, method="exact").pvalue)


def mann_kendall_tied(values):
    v = np.array(values)
    s = int(np.triu(np.sign(v[None, :] - v[:, None]), 1).sum())
    n, ties = len(v), np.unique(v, return_counts=True)[1]
    variance = (n * (n - 1) * (2 * n + 5) - (ties * (ties - 1) * (2 * ties + 5)).sum()) / 18
    if s == 0:
        return {"s": 0, "p": 1.0}
    return {"s": s, "p": float(2 * stats.norm.sf((abs(s) - 1) / math.sqrt(variance)))}


def theil_sen(x, y):
    slope, intercept, *_ = stats.theilslopes(y, x, method="separate")
    return [float(slope), float(intercept)]


def line(x, y):
    fit = stats.linregress(x, y)
    return [float(fit.slope), float(fit.intercept), float(fit.stderr)]


def crossing(x, y, limit, side, confidence, start):
    """By bracketing and Brent's method on the unsquared equation."""
    fit, n, mean = stats.linregress(x, y), len(x), np.mean(x)
    sxx = float(((np.array(x) - mean) ** 2).sum())
    quantile, sign = stats.t.ppf(confidence, n - 2), 1 if side == "upper" else -1

    def beyond(at):
        error = fit.stderr * math.sqrt(sxx / n + (at - mean) ** 2)
        return sign * (fit.intercept + fit.slope * at - limit) + quantile * error

    if beyond(start) > 0:
        return "already reached"
    step = (max(x) - min(x)) / 64
    for k in range(24):
        if beyond(start + step * 2**k) > 0:
            return float(optimize.brentq(beyond, start, start + step * 2**k, xtol=1e-13, rtol=1e-14, maxiter=500))
    return None


def beta_binomial(groups, fit):
    failed, tested = np.array([g["failed"] for g in groups]), np.array([g["tested"] for g in groups])

    def height(mean, weight):
        if weight is None:
            return float(stats.binom.logpmf(failed, tested, mean).sum())
        return float(stats.betabinom.logpmf(failed, tested, mean * weight, (1 - mean) * weight).sum())

    pooled = failed.sum() / tested.sum()
    best, best_mean = height(pooled, None), pooled
    for weight in (0.3, 3, 30, 300):
        found = optimize.minimize(
            lambda at: -height(special.expit(at[0]), math.exp(min(at[1], 12))),
            [special.logit(pooled), math.log(weight)],
            method="Nelder-Mead",
            options={"xatol": 1e-9, "fatol": 1e-11, "maxiter": 4000, "maxfev": 4000},
        )
        if -found.fun > best:
            best, best_mean = -found.fun, special.expit(found.x[0])
    return {"reached": height(fit["mean"], fit["weight"]), "best": float(best), "mean": float(best_mean)}


def funnel(target, tested, p):
    r = int(stats.binom.ppf(p, tested, target))
    excess = (stats.binom.cdf(r, tested, target) - p) / stats.binom.pmf(r, tested, target)
    return max(0.0, float((r - excess) / tested))


def wilson(failed, tested):
    interval = stats.binomtest(failed, tested).proportion_ci(method="wilson")
    return [float(interval.low), float(interval.high)]


def trend(groups):
    """The test statistic is sqrt(N) times the correlation of score and outcome over single tests."""
    scores = np.concatenate([np.full(g["tested"], i) for i, g in enumerate(groups)])
    outcomes = np.concatenate([np.arange(g["tested"]) < g["failed"] for g in groups]).astype(float)
    z = float(np.corrcoef(scores, outcomes)[0, 1] * math.sqrt(len(scores)))
    return {"z": z, "p": float(2 * stats.norm.sf(abs(z)))}


ANSWERS = {
    "mann_kendall": mann_kendall,
    "mann_kendall_tied": mann_kendall_tied,
    "theil_sen": theil_sen,
    "line": line,
    "crossing": crossing,
    "beta_binomial": beta_binomial,
    "funnel": funnel,
    "wilson": wilson,
    "trend": trend,
    "quantile": lambda values, share: float(np.quantile(values, share)),
    "normal_quantile": lambda p: float(stats.norm.ppf(p)),
    "student_t_quantile": lambda p, degrees: float(stats.t.ppf(p, degrees)),
}

questions = json.load(sys.stdin)
json.dump({name: [ANSWERS[name](*asked) for asked in lists] for name, lists in questions.items()}, sys.stdout, allow_nan=False)
