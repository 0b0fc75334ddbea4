#include <catch2/catch.hpp>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "audit/lmm.hpp"

using namespace tarewell::audit;

// The data sets are those of the R packages lme4 (Dyestuff, Dyestuff2, Penicillin, Pastes,
// InstEval) and nlme (Rail); the reference answers are lme4 1.1's and nlme's own REML fits,
// printed with more digits (read in the source; recomputed with R).
namespace {

lmm_data one_mean(std::vector<double> response, const std::vector<std::vector<int>>& groupings) {
    lmm_data data;
    data.fixed = {std::vector<double>(response.size(), 1.0)};
    data.response = std::move(response);
    for (const auto& grouping : groupings) {
        data.terms.push_back(grouping_term(grouping));
    }
    return data;
}

std::vector<int> repeated(int groups, int each) {
    std::vector<int> levels;
    for (int g = 0; g < groups; ++g) {
        levels.insert(levels.end(), static_cast<std::size_t>(each), g);
    }
    return levels;
}

std::vector<int> cycled(int groups, int times) {
    std::vector<int> levels;
    for (int t = 0; t < times; ++t) {
        for (int g = 0; g < groups; ++g) {
            levels.push_back(g);
        }
    }
    return levels;
}

} // namespace

TEST_CASE("Dyestuff: one random effect gives the published REML fit") {
    // Davies and Goldsmith 1972, by way of lme4's Dyestuff.
    const auto fit =
        fit_lmm(one_mean({1545, 1440, 1440, 1520, 1580, 1540, 1555, 1490, 1560, 1495, 1595, 1550, 1605, 1510, 1560,
                          1445, 1440, 1595, 1465, 1545, 1595, 1630, 1515, 1635, 1625, 1520, 1455, 1450, 1480, 1445},
                         {repeated(6, 5)}));
    CHECK(fit.status == lmm_status::fitted);
    CHECK(fit.criterion == Approx(319.6542768).epsilon(3e-10));
    CHECK(fit.sd[0] == Approx(42.0005953).epsilon(1e-7)); // also exact: sqrt(1764.05)
    CHECK(fit.residual_sd == Approx(49.5101).epsilon(1e-8));
    CHECK(fit.fixed[0] == Approx(1527.5).epsilon(1e-12));
    CHECK(fit.fixed_error[0] == Approx(19.3834122).epsilon(1e-7));
}

TEST_CASE("Dyestuff2: a variance on the boundary is exactly zero") {
    // Box and Tiao 1973, by way of lme4's Dyestuff2.
    const auto fit = fit_lmm(one_mean({7.298, 3.846,  2.434,  9.566, 7.99,  5.22,  6.556, 0.608, 11.788, -0.892,
                                       0.11,  10.386, 13.434, 5.51,  8.166, 2.212, 4.852, 7.092, 9.288,  4.98,
                                       0.282, 9.014,  4.458,  9.446, 7.198, 1.722, 4.782, 8.106, 0.758,  3.758},
                                      {repeated(6, 5)}));
    CHECK(fit.status == lmm_status::fitted_at_boundary);
    CHECK(fit.criterion == Approx(161.82828).epsilon(3e-8));
    CHECK(fit.sd[0] == 0.0);
    CHECK(fit.residual_sd == Approx(3.715684).epsilon(2e-7));
}

TEST_CASE("Penicillin: crossed random effects give the published REML fit") {
    // Davies and Goldsmith 1972: 24 plates by 6 samples, by way of lme4's Penicillin.
    const auto fit = fit_lmm(
        one_mean({27, 23, 26, 23, 23, 21, 27, 23, 26, 23, 23, 21, 25, 21, 25, 24, 24, 20, 26, 23, 25, 23, 23, 20,
                  25, 22, 26, 22, 23, 20, 24, 22, 25, 23, 22, 19, 24, 20, 23, 21, 22, 19, 26, 22, 26, 24, 24, 21,
                  24, 21, 24, 22, 22, 20, 24, 21, 24, 23, 22, 19, 26, 23, 26, 24, 24, 21, 25, 22, 26, 24, 24, 20,
                  26, 24, 26, 24, 25, 22, 26, 23, 26, 23, 23, 20, 26, 23, 25, 24, 24, 22, 25, 22, 25, 23, 23, 20,
                  25, 21, 24, 23, 23, 20, 25, 22, 24, 23, 23, 19, 24, 21, 23, 21, 21, 19, 26, 23, 26, 24, 24, 21,
                  25, 21, 24, 22, 22, 18, 25, 22, 25, 22, 22, 20, 24, 21, 24, 22, 24, 19, 24, 21, 24, 22, 21, 18},
                 {repeated(24, 6), cycled(6, 24)}));
    CHECK(fit.criterion == Approx(330.860589).epsilon(3e-9));
    CHECK(fit.sd[0] == Approx(.846704).epsilon(1e-6));
    CHECK(fit.sd[1] == Approx(1.931558).epsilon(1e-6));
    CHECK(fit.residual_sd == Approx(.549923).epsilon(1e-6));
}

TEST_CASE("Pastes: nested random effects give the published REML fit") {
    // Davies and Goldsmith 1972: casks within batches, by way of lme4's Pastes.
    const auto fit =
        fit_lmm(one_mean({62.8, 62.6, 60.1, 62.3, 62.7, 63.1, 60,   61.4, 57.5, 56.9, 61.1, 58.9, 58.7, 57.5, 63.9,
                          63.1, 65.4, 63.7, 57.1, 56.4, 56.9, 58.6, 64.7, 64.5, 55.1, 55.1, 54.7, 54.2, 58.8, 57.5,
                          63.4, 64.9, 59.3, 58.1, 60.5, 60,   62.5, 62.6, 61,   58.7, 56.9, 57.7, 59.2, 59.4, 65.2,
                          66,   64.8, 64.1, 54.8, 54.8, 64,   64,   57.7, 56.8, 58.3, 59.3, 59.2, 59.2, 58.9, 56.6},
                         {repeated(30, 2), repeated(10, 6)}));
    CHECK(fit.criterion == Approx(246.99074585).epsilon(1e-10));
    CHECK(fit.sd[0] == Approx(2.904078).epsilon(1e-6));
    CHECK(fit.sd[1] == Approx(1.287365).epsilon(2e-6));
    CHECK(fit.residual_sd == Approx(.823408).epsilon(1e-6));
}

TEST_CASE("Rail: the fit of Pinheiro and Bates's first example") {
    // Pinheiro and Bates 2000, Mixed-Effects Models in S and S-PLUS, section 1.1; nlme's Rail.
    const auto fit =
        fit_lmm(one_mean({55, 53, 54, 26, 37, 32, 78, 91, 85, 92, 100, 96, 49, 51, 50, 80, 85, 83}, {repeated(6, 3)}));
    CHECK(fit.fixed[0] == Approx(66.5).epsilon(1e-12));
    CHECK(fit.fixed_error[0] == Approx(10.17104).epsilon(1e-6));
    CHECK(fit.sd[0] == Approx(24.80547).epsilon(1e-6));
    CHECK(fit.residual_sd == Approx(4.02078).epsilon(1e-6));
    CHECK(fit.criterion / -2.0 == Approx(-61.0885).epsilon(1e-6));
}

TEST_CASE("InstEval: 73,421 ratings of 1,128 lecturers by 2,972 students") {
    const auto file = std::filesystem::temp_directory_path() / "tarewell_inst_eval.csv";
    const auto command = "Rscript -e 'd <- lme4::InstEval; write.table(cbind(d$y, as.integer(d$s), "
                         "as.integer(d$d)), \"" +
                         file.string() + "\", row.names = FALSE, col.names = FALSE)' > /dev/null 2>&1";
    if (std::system(command.c_str()) != 0) {
        WARN("skipped: needs Rscript with lme4");
        return;
    }
    std::vector<double> ratings;
    std::vector<int> students;
    std::vector<int> lecturers;
    std::ifstream rows(file);
    double rating = 0.0;
    int student = 0;
    int lecturer = 0;
    while (rows >> rating >> student >> lecturer) {
        ratings.push_back(rating);
        students.push_back(student - 1);
        lecturers.push_back(lecturer - 1);
    }
    std::filesystem::remove(file);
    REQUIRE(ratings.size() == 73421);
    const auto fit = fit_lmm(one_mean(std::move(ratings), {students, lecturers}), 2);
    CHECK_FALSE(fit.approximate);
    CHECK(fit.criterion == Approx(237783.8804).epsilon(1e-9));
    CHECK(fit.sd[0] == Approx(.32590567).epsilon(1e-6));
    CHECK(fit.sd[1] == Approx(.52319677).epsilon(1e-6));
    CHECK(fit.residual_sd == Approx(1.17778593).epsilon(1e-7));
    CHECK(fit.fixed[0] == Approx(3.25415828).epsilon(1e-8));
}

TEST_CASE("A response without scatter and too few rows give a sentence and no NaN") {
    const auto exact = fit_lmm(one_mean({2, 2, 2, 2}, {repeated(2, 2)}));
    CHECK(exact.status == lmm_status::no_residual);
    CHECK(exact.residual_sd == 0.0);
    CHECK(exact.fixed[0] == Approx(2.0));
    const auto stepped = fit_lmm(one_mean({1, 1, 2, 2, 4, 4}, {repeated(3, 2)}));
    CHECK(stepped.status == lmm_status::no_residual);
    CHECK(fit_lmm(one_mean({2}, {})).status == lmm_status::too_few_rows);
    CHECK_FALSE(fit_lmm(one_mean({}, {})).sentence.empty());
}
