/* The stated benchmark case of the hopper (docs/benchmark.md) for SUNDIALS CVODE: BDF, banded Newton.
 *
 * Equations, per kg of dry resin; s = dry resin between the air inlet and here, 0..MASS kg:
 *   sphere   dC/dt - m dC/ds = D(T) (1/r2) d/dr (r2 dC/dr); X is the mean of C over the sphere
 *   surface  C(R) = capacity(T) a, and (3/R) D (-dC/dr) at R = n = k (a psat(T) - p(Y))
 *   pellets  (c + X cw)(dT/dt - m dT/ds) = h (Tg - T) - n (hv(T) - cw (T - T0) + q), q = -H/Mw,
 *            which is the enthalpy H = c (T - T0) + X cw (T - T0) - X q differentiated
 *   air      G dY/ds = n;  G (ca + Y cv) dTg/ds = -(h + n cv)(Tg - T) - u (Tg - Ta)
 * An ODE solver cannot carry algebraic equations, so the air is given a store worth LAG seconds of
 * passage through the whole bed, 300 times less than it really has; halving it changes nothing that
 * counts. Saturation pressure is that of Wagner and Pruss (1993), constants as in IAPWS SR1-86(1992).
 *
 * Height, "dgN": nodal discontinuous Galerkin of degree N on Legendre-Gauss-Lobatto nodes, upwind
 *   flux for pellets (down) and air (up); dg0 is the plain upwind scheme. Elements of equal mass, or
 *   graded towards both ends by cosines. Jacobian in closed form along the height, and by
 *   differences, one node at a time, within it.
 * Height, "tvd": finite volumes with the limiter of van Leer (1974), J. Comput. Phys. 14, 361;
 *   Jacobian by CVODE's own banded differences.
 * Radius, "cN": orthogonal collocation at the N zeros of the Jacobi polynomial (0, 1/2) in r2
 *   (Villadsen and Stewart (1967), Chem. Eng. Sci. 22, 1483; from memory), exact in water.
 * Radius, "sN": N shells of equal thickness.
 *
 * Build: cc -O3 hopper_cvode.c -lsundials_cvode -lsundials_nvecserial -lm   (Debian: libsundials-dev)
 * Run:   hopper_cvode ENERGY HEIGHT CELLS RADIUS RTOL GRADE HOUR...
 * as in  hopper_cvode 0 dg3 8 c4 3e-4 0.7 4 8 12 16
 * Prints per hour: hour, moisture at the air inlet (kg/kg), return air degC and kg/kg; at the end the
 * processor seconds from the numbers to the answers, unknowns, half band, steps, calls, set-ups.
 */
#define _GNU_SOURCE
#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sundials/sundials_types.h>
#include <sunlinsol/sunlinsol_band.h>
#include <sunmatrix/sunmatrix_band.h>
#include <time.h>

enum { MOST_RADIAL = 64, MOST_DEGREE = 10 };

static const double GAS = 8.31446261815324, WATER = 0.018015268, AIR = 0.028966, ZERO = 273.15;
static const double RATE = 10.0 / 3600.0, FLOW = 20.0 / 3600.0, MASS = 35.0, RADIUS = 1.5e-3;
static const double T_AIR = 393.15, Y_AIR = 7.9e-5, T_FEED = 298.15, X_FEED = 2e-3;
static const double AMBIENT = 298.15, PRESSURE = 101325.0;
static const double CAPACITY = 0.006, CAPACITY_AT = 373.15, MIXING = 6300.0;
static const double D_REF = 5e-11, D_AT = 393.15;
static const double C_RESIN = 1400.0, C_AIR = 1006.0, C_VAPOUR = 1860.0, C_WATER = 4186.0;
static const double EVAPORATION = 2.501e6, HEAT = 100.0, FILM = 5.5e-7, WALL = 1.0;

static double ENERGY, LAG = 0.01;

/* Mesh: nr unknowns along the radius, then pellet and air temperature and humidity: nv at a node. */
static int nr, nv, degree, elements, nodes, shells, limited;
static double *thick; /* kg in each element or cell */

/* Radius: Laplacian at the unknowns (last column: surface), its non-zero columns, the slope at the
 * surface, weights of the mean; all for a radius of 1. */
static double lap[MOST_RADIAL][MOST_RADIAL + 1], lap_surface[MOST_RADIAL];
static int from[MOST_RADIAL], upto[MOST_RADIAL];
static double slope_at[MOST_RADIAL + 1], mean_of[MOST_RADIAL];

/* Height: differentiation on -1..1 and the weight of an end node. */
static double diff[MOST_DEGREE + 1][MOST_DEGREE + 1], end_weight;

static long rate_calls, jacobian_calls;

static double saturation(double t) {
    double v = 1.0 - t / 647.096, r = sqrt(v), v2 = v * v, v3 = v2 * v;
    double sum = -7.85951783 * v + 1.84408259 * v * r - 11.7866497 * v3 + 22.6807411 * v3 * r
        - 15.9618719 * v2 * v2 + 1.80122502 * v3 * v3 * v * r;
    return 22.064e6 * exp(647.096 / t * sum);
}

/* Rates at one node without transport along the height. */
static void local(const double *y, double *f) {
    double t = y[nr], tg = y[nr + 1], humid = y[nr + 2];
    double d = D_REF * exp(-ENERGY / GAS * (1.0 / t - 1.0 / D_AT)) / (RADIUS * RADIUS);
    double capacity = CAPACITY * exp(-MIXING / GAS * (1.0 / t - 1.0 / CAPACITY_AT));
    double pressure = PRESSURE * humid / (WATER / AIR + humid);
    double pull = FILM * saturation(t) / capacity;
    double slope = 0.0, mean = 0.0;
    for (int j = shells ? nr - 1 : 0; j < nr; j++) slope += slope_at[j] * y[j];
    for (int j = 0; j < nr; j++) mean += mean_of[j] * y[j];
    /* What comes out of the sphere is what the film carries away: linear in the surface moisture. */
    double surface = (FILM * pressure - 3.0 * d * slope) / (pull + 3.0 * d * slope_at[nr]);
    double n = pull * surface - FILM * pressure;
    for (int i = 0; i < nr; i++) {
        double sum = lap_surface[i] * surface;
        for (int j = from[i]; j < upto[i]; j++) sum += lap[i][j] * y[j];
        f[i] = d * sum;
    }
    double needed = EVAPORATION + (C_VAPOUR - C_WATER) * (t - ZERO) - MIXING / WATER;
    f[nr] = (HEAT * (tg - t) - n * needed) / (C_RESIN + mean * C_WATER);
    f[nr + 1] = -MASS / FLOW / LAG * ((HEAT + n * C_VAPOUR) * (tg - t) + WALL / MASS * (tg - AMBIENT))
        / (C_AIR + humid * C_VAPOUR);
    f[nr + 2] = MASS / FLOW / LAG * n;
}

/* Transport along the height by discontinuous Galerkin, added to f. */
static void carry_galerkin(const double *y, double *f) {
    int p = degree + 1;
    for (int e = 0; e < elements; e++) {
        double down = 2.0 * RATE / thick[e], up = 2.0 * MASS / LAG / thick[e];
        const double *ye = y + e * p * nv;
        double *fe = f + e * p * nv;
        for (int i = 0; i < p; i++)
            for (int j = 0; j < p; j++) {
                double ds = down * diff[i][j], us = up * diff[i][j];
                for (int v = 0; v <= nr; v++) fe[i * nv + v] += ds * ye[j * nv + v];
                for (int v = nr + 1; v < nv; v++) fe[i * nv + v] -= us * ye[j * nv + v];
            }
        int top = degree;
        for (int v = 0; v <= nr; v++) {
            double above = e + 1 < elements ? ye[p * nv + v] : (v == nr ? T_FEED : X_FEED);
            fe[top * nv + v] += down / end_weight * (above - ye[top * nv + v]);
        }
        for (int v = nr + 1; v < nv; v++) {
            double below = e > 0 ? ye[v - nv] : (v == nr + 1 ? T_AIR : Y_AIR);
            fe[v] += up / end_weight * (below - ye[v]);
        }
    }
}

/* Value leaving a cell downstream, from the one upstream of it, itself and the one downstream. */
static double leaving(double before, double here, double after) {
    double a = here - before, b = after - here;
    return a * b > 0.0 ? here + a * b / (a + b) : here;
}

/* Transport of unknown v along the height by limited finite volumes, added to f unless that is NULL;
 * returns what leaves the bed. */
static double carry_limited(const double *y, double *f, int v) {
    int pellets = v <= nr;
    double inflow = v < nr ? X_FEED : (v == nr ? T_FEED : (v == nr + 1 ? T_AIR : Y_AIR)), before = 0.0;
    double speed = (pellets ? RATE : MASS / LAG) / thick[0];
    for (int k = 0; k < elements; k++) {
        int at = (pellets ? elements - 1 - k : k) * nv + v, step = pellets ? -nv : nv;
        double here = y[at];
        if (k == 0) before = 2.0 * inflow - here; /* the face is half a cell away */
        double after = k + 1 < elements ? y[at + step] : 2.0 * here - before;
        double outflow = leaving(before, here, after);
        if (f) f[at] += speed * (inflow - outflow);
        inflow = outflow;
        before = here;
    }
    return inflow;
}

static int rates(sunrealtype time, N_Vector y, N_Vector f, void *data) {
    (void)time; (void)data;
    rate_calls++;
    const double *from_y = N_VGetArrayPointer(y);
    double *to_f = N_VGetArrayPointer(f);
    for (int k = 0; k < nodes; k++) local(from_y + k * nv, to_f + k * nv);
    if (!limited) carry_galerkin(from_y, to_f);
    else for (int v = 0; v < nv; v++) carry_limited(from_y, to_f, v);
    return 0;
}

static int jacobian(sunrealtype time, N_Vector yv, N_Vector fv, SUNMatrix jac, void *data, N_Vector a,
                    N_Vector b, N_Vector c) {
    (void)time; (void)data; (void)fv; (void)a; (void)b; (void)c;
    jacobian_calls++;
    const double *y = N_VGetArrayPointer(yv);
    int p = degree + 1;
    double here[MOST_RADIAL + 3], base[MOST_RADIAL + 3], moved[MOST_RADIAL + 3];
    for (int k = 0; k < nodes; k++) {
        memcpy(here, y + k * nv, nv * sizeof(double));
        local(here, base);
        for (int v = 0; v < nv; v++) {
            double was = here[v];
            here[v] = was + (v == nr || v == nr + 1 ? 1e-4 : 1e-8);
            double step = here[v] - was;
            local(here, moved);
            here[v] = was;
            for (int i = 0; i < nv; i++)
                SM_ELEMENT_B(jac, k * nv + i, k * nv + v) = (moved[i] - base[i]) / step;
        }
    }
    for (int e = 0; e < elements; e++) {
        double down = 2.0 * RATE / thick[e], up = 2.0 * MASS / LAG / thick[e];
        int at = e * p * nv, top = at + degree * nv;
        for (int i = 0; i < p; i++)
            for (int j = 0; j < p; j++)
                for (int v = 0; v < nv; v++)
                    SM_ELEMENT_B(jac, at + i * nv + v, at + j * nv + v) +=
                        (v <= nr ? down : -up) * diff[i][j];
        for (int v = 0; v <= nr; v++) {
            SM_ELEMENT_B(jac, top + v, top + v) -= down / end_weight;
            if (e + 1 < elements) SM_ELEMENT_B(jac, top + v, top + nv + v) += down / end_weight;
        }
        for (int v = nr + 1; v < nv; v++) {
            SM_ELEMENT_B(jac, at + v, at + v) -= up / end_weight;
            if (e > 0) SM_ELEMENT_B(jac, at + v, at - nv + v) += up / end_weight;
        }
    }
    return 0;
}

/* Differentiation matrix of the nodes u. */
static void differentiate(int n, const long double *u, long double d[][MOST_RADIAL + 1]) {
    long double w[MOST_RADIAL + 1];
    for (int i = 0; i < n; i++) {
        w[i] = 1.0L;
        for (int j = 0; j < n; j++) if (j != i) w[i] *= u[i] - u[j];
    }
    for (int i = 0; i < n; i++) {
        d[i][i] = 0.0L;
        for (int j = 0; j < n; j++) if (j != i) {
            d[i][j] = w[i] / w[j] / (u[i] - u[j]);
            d[i][i] += 1.0L / (u[i] - u[j]);
        }
    }
}

/* Jacobi polynomial P_n^(0,b), b = 1/2, by its three-term recurrence. */
static long double jacobi(int n, long double x) {
    const long double b = 0.5L;
    long double last = 1.0L, now = 0.5L * (-b + (2.0L + b) * x);
    for (int k = 1; k < n; k++) {
        long double s = 2.0L * k + b;
        long double next = (((s + 1) * (s * (s + 2) * x - b * b)) * now - 2.0L * k * (k + b) * (s + 2) * last)
            / (2.0L * (k + 1) * (k + b + 1) * s);
        last = now;
        now = next;
    }
    return now;
}

static void radius_by_collocation(void) {
    static long double d[MOST_RADIAL + 1][MOST_RADIAL + 1];
    long double u[MOST_RADIAL + 1];
    int parts = 64 * nr, found = 0;
    for (int k = 1; k <= parts && found < nr; k++) {
        long double low = -cosl(M_PI * (k - 1) / parts), high = -cosl(M_PI * k / parts);
        int sign = jacobi(nr, low) > 0;
        if ((jacobi(nr, high) > 0) == sign) continue;
        for (int r = 0; r < 66; r++) {
            long double mid = 0.5L * (low + high);
            if ((jacobi(nr, mid) > 0) == sign) low = mid; else high = mid;
        }
        u[found++] = 0.5L * (1.0L + low);
    }
    u[nr] = 1.0L;
    differentiate(nr + 1, u, d);
    /* With u = r2: Laplacian = 4 u C'' + 6 C', slope at the surface = 2 C'. */
    for (int i = 0; i <= nr; i++)
        for (int j = 0; j <= nr; j++) {
            long double second = 0.0L;
            for (int k = 0; k <= nr; k++) second += d[i][k] * d[k][j];
            if (i < nr && j < nr) lap[i][j] = 4.0L * u[i] * second + 6.0L * d[i][j];
            else if (i < nr) lap_surface[i] = 4.0L * u[i] * second + 6.0L * d[i][j];
            else slope_at[j] = 2.0L * d[i][j];
        }
    for (int j = 0; j < nr; j++) {
        /* Lagrange polynomial of this node by its coefficients, times the moments of 1.5 sqrt(u) du. */
        long double poly[MOST_RADIAL + 2] = {1.0L}, sum = 0.0L;
        for (int k = 0, deg = 0; k < nr; k++) if (k != j) {
            deg++;
            for (int m = deg; m >= 0; m--)
                poly[m] = ((m > 0 ? poly[m - 1] : 0.0L) - (m < deg ? u[k] * poly[m] : 0.0L)) / (u[j] - u[k]);
        }
        for (int m = 0; m < nr; m++) sum += poly[m] * 3.0L / (2.0L * m + 3.0L);
        mean_of[j] = sum;
        from[j] = 0;
        upto[j] = nr;
    }
}

static void radius_by_shells(void) {
    double w = 1.0 / nr;
    for (int i = 0; i < nr; i++) {
        double inner = i * w, outer = inner + w;
        double volume = (outer * outer * outer - inner * inner * inner) / 3.0;
        double in = inner * inner / w / volume, out = outer * outer / w / volume;
        from[i] = i > 0 ? i - 1 : 0;
        upto[i] = i + 2 < nr ? i + 2 : nr;
        if (i > 0) { lap[i][i - 1] = in; lap[i][i] -= in; }
        if (i + 1 < nr) { lap[i][i + 1] = out; lap[i][i] -= out; }
        else { lap_surface[i] = 2.0 * out; lap[i][i] -= 2.0 * out; }
        mean_of[i] = 3.0 * volume;
    }
    slope_at[nr] = 2.0 / w;
    slope_at[nr - 1] = -2.0 / w;
}

static long double legendre(int n, long double x, long double *slope) {
    long double last = 1.0L, now = x;
    for (int k = 1; k < n; k++) {
        long double next = ((2 * k + 1) * x * now - k * last) / (k + 1);
        last = now;
        now = next;
    }
    *slope = n * (x * now - last) / (x * x - 1.0L);
    return now;
}

static void lobatto(void) {
    static long double d[MOST_DEGREE + 1][MOST_RADIAL + 1];
    long double x[MOST_DEGREE + 1];
    int p = degree;
    if (p == 0) { end_weight = 2.0; return; }
    x[0] = -1.0L;
    x[p] = 1.0L;
    for (int i = 1; i < p; i++) {
        long double z = -cosl(M_PI * i / p), slope;
        for (int r = 0; r < 60; r++) {
            long double value = legendre(p, z, &slope);
            z -= slope * (1 - z * z) / (2 * z * slope - p * (p + 1) * value);
        }
        x[i] = z;
    }
    differentiate(p + 1, x, d);
    for (int i = 0; i <= p; i++)
        for (int j = 0; j <= p; j++) diff[i][j] = d[i][j];
    end_weight = 2.0 / (p * (p + 1));
}

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return t.tv_sec + 1e-9 * t.tv_nsec;
}

int main(int count, char **words) {
    if (count < 8) {
        fprintf(stderr, "hopper_cvode ENERGY dgN|tvd CELLS cN|sN RTOL GRADE HOUR...\n");
        return 2;
    }
    double start = now();
    ENERGY = atof(words[1]);
    limited = words[2][0] == 't';
    degree = limited ? 0 : atoi(words[2] + 2);
    elements = atoi(words[3]);
    shells = words[4][0] == 's';
    nr = atoi(words[4] + 1);
    double rtol = atof(words[5]), grade = limited ? 0.0 : atof(words[6]);
    if (getenv("LAG")) LAG = atof(getenv("LAG"));
    if (nr < 2 || nr > MOST_RADIAL || degree > MOST_DEGREE || elements < 2) return 2;
    nv = nr + 3;
    nodes = elements * (degree + 1);
    if (shells) radius_by_shells(); else radius_by_collocation();
    lobatto();
    thick = malloc(elements * sizeof(double));
    for (int e = 0; e < elements; e++) {
        double a = (double)e / elements, b = (double)(e + 1) / elements;
        thick[e] = MASS * ((1.0 - grade) * (b - a) + grade * 0.5 * (cos(M_PI * a) - cos(M_PI * b)));
    }
    SUNContext context;
    SUNContext_Create(NULL, &context);
    long n = (long)nodes * nv, band = (long)(limited ? 2 : degree > 1 ? degree : 1) * nv;
    N_Vector y = N_VNew_Serial(n, context), floors = N_VNew_Serial(n, context);
    double *value = N_VGetArrayPointer(y), *floor = N_VGetArrayPointer(floors);
    for (long k = 0; k < n; k++) {
        int v = k % nv, kelvin = v == nr || v == nr + 1;
        value[k] = v < nr ? X_FEED : (kelvin ? T_FEED : Y_AIR);
        floor[k] = rtol * (kelvin ? 100.0 : 1e-3); /* absolute, at the size of the numbers */
    }
    void *solver = CVodeCreate(CV_BDF, context);
    CVodeInit(solver, rates, 0.0, y);
    CVodeSVtolerances(solver, 0.0, floors);
    SUNMatrix matrix = SUNBandMatrix(n, band, band, context);
    SUNLinearSolver linear = SUNLinSol_Band(y, matrix, context);
    CVodeSetLinearSolver(solver, linear, matrix);
    if (!limited) CVodeSetJacFn(solver, jacobian);
    CVodeSetMaxNumSteps(solver, 10000000);
    for (int k = 7; k < count; k++) {
        sunrealtype reached;
        if (CVode(solver, atof(words[k]) * 3600.0, y, &reached, CV_NORMAL) < 0) return 1;
        double out[MOST_RADIAL + 3], mean = 0.0;
        for (int v = 0; v < nv; v++)
            out[v] = limited ? carry_limited(value, NULL, v) : value[v <= nr ? v : (long)(nodes - 1) * nv + v];
        for (int j = 0; j < nr; j++) mean += mean_of[j] * out[j];
        printf("hour %s %.10e %.6f %.8e\n", words[k], mean, out[nr + 1] - ZERO, out[nr + 2]);
    }
    double taken = now() - start;
    long steps, setups;
    CVodeGetNumSteps(solver, &steps);
    CVodeGetNumLinSolvSetups(solver, &setups);
    printf("seconds %.6f unknowns %ld band %ld steps %ld calls %ld setups %ld jacobians %ld\n", taken, n, band,
           steps, rate_calls, setups, jacobian_calls);
    return 0;
}
