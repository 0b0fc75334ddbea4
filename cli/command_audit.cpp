#include "desk/audit.hpp"
#include "desk/keeping.hpp"
#include "ledger/whole_file.hpp"
#include "names.hpp"
#include "render/audit_page.hpp"

#include <fmt/format.h>

#include <ostream>

namespace tarewell::cli {
namespace {

struct options {
    desk::audit_request request;
    std::string tolerance = "10%";
    std::string grower, file;
    int most = 10, weigh = 10;
    std::string goal = "total";
    desk::sample_request sample;
};

/// Adds a subcommand with the options that all have, then those of its own.
template <class Options, class Answer> void add_asking(const command& audit, context& with, const char* name,
                                                       const char* what, Options add_options, Answer answer_of) {
    auto sub = audit.add(name, what);
    auto& how = audit.keep<options>();
    auto& request = how.request;
    auto quarter = sub.value("--quarter", request.quarter, "only what was weighed in this quarter, such as 2026-Q3");
    sub.value("--from", request.from, "only what was weighed from this day on, such as 2026-05-14").excludes(quarter);
    sub.value("--to", request.to, "only what was weighed by this day").excludes(quarter);
    sub.value("--as-of", request.as_of, "as the ledger stood after this entry");
    sub.flag("--json", with.json, "JSON output");
    add_options(sub, how);
    sub.does([&how, answer_of, &with] { with.print(answer_of(how, with)); });
}

/// The same for what stands on the fitted model and nothing else.
void add_plain(const command& audit, context& with, const char* name, const char* what,
               desk::answer (*answer_of)(const desk::audit_view&)) {
    add_asking(
        audit, with, name, what, [](const command&, options&) {},
        [answer_of](const options& how, const context& in) {
            return answer_of(desk::view_audit(in.open(), how.request));
        });
}

void take_tolerance(const command& sub, options& how) {
    sub.value("--tolerance", how.tolerance, "as for `audit growers`").shows_default();
}

void add_growers_and_letter(const command& audit, context& with) {
    add_asking(
        audit, with, "growers", "whose estimates run high or low, and how sure that is",
        [](const command& sub, options& how) {
            sub.value("--tolerance", how.tolerance,
                      "how far from what others come to is still fine: 10%, 10 and 0.1 all mean ten percent")
                .shows_default();
        },
        [](const options& how, const context& in) {
            const double tolerance = desk::read_tolerance(how.tolerance);
            return desk::audit_growers(desk::view_audit(in.open(), how.request), tolerance);
        });
    add_asking(
        audit, with, "letter", "a kind question for a grower who is surely off, or why there is no letter",
        [](const command& sub, options& how) {
            sub.value("GROWER", how.grower, "the grower, by id or name").required();
            take_tolerance(sub, how);
        },
        [](const options& how, const context& in) {
            const double tolerance = desk::read_tolerance(how.tolerance);
            auto file = in.open();
            const auto grower = id_meant(file, records::kind::grower, how.grower, in);
            return desk::audit_letter(desk::view_audit(std::move(file), how.request), grower, tolerance);
        });
}

void add_bales(const command& audit, context& with) {
    add_asking(
        audit, with, "bales", "tickets and claims to check, and how likely each is wrong",
        [](const command& sub, options& how) {
            sub.value("--most", how.most, "how many to list beside those that stand out")
                .between(1, 10'000)
                .shows_default();
        },
        [](const options& how, const context& in) {
            return desk::audit_bales(desk::view_audit(in.open(), how.request), how.most);
        });
}

void add_scales(const command& audit, context& with) {
    add_asking(
        audit, with, "scales", "check weights, control charts, and one scale against another",
        [](const command&, options&) {},
        [](const options& how, const context& in) {
            return desk::audit_scales(desk::season_view{in.open(), how.request.as_of}, how.request);
        });
}

void add_next(const command& audit, context& with) {
    add_asking(
        audit, with, "next", "which bundles on hand to weigh alone next, and what that gains",
        [](const command& sub, options& how) {
            sub.value("--weigh", how.weigh, "how many bundles").between(1, 10'000).shows_default();
            sub.value("--for", how.goal, "total: the weight on hand; growers: telling growers apart")
                .one_of({"total", "growers"})
                .shows_default();
        },
        [](const options& how, const context& in) {
            return desk::audit_next(desk::view_audit(in.open(), how.request), how.weigh, how.goal);
        });
}

void take_sample_options(const command& sub, desk::sample_request& how) {
    sub.value("--method", how.method,
              "attribute: right or wrong; pps: by size, with replacement; monetary: by unit of money or weight")
        .one_of({"attribute", "pps", "monetary"})
        .shows_default();
    sub.value("--of", how.of, "what to draw from").one_of({"tickets", "bales", "bundles", "costs"}).shows_default();
    sub.value("--size", how.size, "how many (without: worked out from --risk and --tolerable)").between(1, 100'000);
    sub.value("--seed", how.seed, "any whole number; write it into your papers").required();
    sub.value("--risk", how.risk, "of accepting what should not be accepted").shows_default();
    sub.value("--tolerable", how.tolerable, "the rate of errors, or the share of the total, that can be borne")
        .shows_default();
    sub.value("--errors", how.errors, "attribute: how many of the items drawn were wrong").between(0, 100'000);
    sub.value("--found", how.found, "ITEM=VALUE: what an item drawn really is (may be given many times)").many();
}

void add_sample(const command& audit, context& with) {
    add_asking(
        audit, with, "sample", "draw items for a reviewer, repeatable from the seed, and say what they tell",
        [](const command& sub, options& how) { take_sample_options(sub, how.sample); },
        [](const options& how, const context& in) {
            return desk::audit_sample(desk::season_view{in.open(), how.request.as_of}, how.request, how.sample);
        });
}

struct confirm_options {
    std::string what, why;
    std::vector<std::string> ids;
};

void add_confirm(const command& audit, context& with) {
    auto sub = audit.add("confirm", "say that the office has seen a ticket, or a registration's form, to be right");
    auto& how = audit.keep<confirm_options>();
    sub.value("WHAT", how.what, "ticket or registration").one_of({"ticket", "registration"}).required();
    sub.value("ID", how.ids, "its id, or several").required().words(1, 100);
    sub.value("--why", how.why, "how that was seen, in a sentence").required();
    sub.does([&how, &with] {
        auto file = with.open();
        const auto kind = how.what == "ticket" ? records::kind::ticket : records::kind::cover;
        for (const auto& said : how.ids) {
            const auto id = id_meant(file, kind, said, with);
            const auto change = desk::confirm(file, how.what, id, how.why, with.writing());
            with.out << (change.entries.empty()
                             ? fmt::format("{}: {}", id, change.note)
                             : fmt::format("{} {} is confirmed by entry {}: no slip is looked for in "
                                           "it any more",
                                           how.what, id, change.entries.front()))
                     << '\n';
        }
    });
}

void add_page(const command& audit, context& with) {
    add_asking(
        audit, with, "page", "pictures of the audit: intervals, claims against the scale, control charts",
        [](const command& sub, options& how) {
            sub.value("FILE", how.file, "the HTML file to write").required();
            take_tolerance(sub, how);
        },
        [](const options& how, const context& in) {
            const double tolerance = desk::read_tolerance(how.tolerance);
            const auto seen = desk::view_audit(in.open(), how.request);
            ledger::write_whole(how.file, render::audit_page(seen, tolerance));
            desk::answer made;
            made.data = seen.head();
            made.data["file"] = how.file;
            made.say(
                "wrote {}: pictures show intervals, not certainty; `tarewell audit growers` says the same in words\n",
                how.file);
            return made;
        });
}

} // namespace

void add_audit(const command& program, context& with) {
    auto sub = program.add("audit", "what the scale says of growers, sites, constants, bales and what is on hand");
    sub.wants_subcommand();
    add_growers_and_letter(sub, with);
    add_plain(sub, with, "sites", "whether a site's film runs dirty or wet", desk::audit_sites);
    add_plain(sub, with, "constants", "what the program's area weight and curvature factor should be",
              desk::audit_constants);
    add_bales(sub, with);
    add_scales(sub, with);
    add_plain(
        sub, with, "total",
        "what all that was received weighs: weighed, and on hand with an interval; an estimate, not the filed figure",
        desk::audit_total);
    add_next(sub, with);
    add_sample(sub, with);
    add_page(sub, with);
    add_confirm(sub, with);
}

} // namespace tarewell::cli
