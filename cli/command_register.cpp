#include "desk/look_up.hpp"
#include "desk/registering.hpp"
#include "desk/sizes.hpp"
#include "names.hpp"

#include <ostream>

namespace tarewell::cli {
namespace {

struct options {
    desk::call call;
    std::string sizes_of, why;
    std::vector<std::string> sizes, rises, layers, mils, structures, films;
};

/// What was given once holds for every cover, what was given several times for one after another.
void put_in(std::vector<desk::cover_told>& covers, const char* option, const std::vector<std::string>& given,
            std::string desk::cover_told::*member) {
    if (given.size() > 1 && given.size() != covers.size())
        throw records::input_error(
            fmt::format("{} is given {} times and --cover {} times; give it once for all covers, or "
                        "once for each ('' where it is not known)",
                        option, given.size(), covers.size()));
    for (std::size_t i = 0; i < covers.size() && !given.empty(); ++i)
        covers[i].*member = given.size() == 1 ? given[0] : given[i];
}

desk::call call_of(const options& how) {
    auto call = how.call;
    for (const auto& size : how.sizes)
        call.covers.push_back(desk::cover_of_size(size));
    const bool more =
        !how.rises.empty() || !how.layers.empty() || !how.mils.empty() || !how.structures.empty() || !how.films.empty();
    if (call.covers.empty() && more) call.covers.resize(1); // a cover whose sizes are not known
    put_in(call.covers, "--rise", how.rises, &desk::cover_told::rise);
    put_in(call.covers, "--layers", how.layers, &desk::cover_told::layers);
    put_in(call.covers, "--mil", how.mils, &desk::cover_told::mil);
    put_in(call.covers, "--structure", how.structures, &desk::cover_told::structure);
    put_in(call.covers, "--film", how.films, &desk::cover_told::film);
    return call;
}

/// Asks a person what a doubt leaves open; false where it stays open.
bool settled(const desk::call_in_doubt& doubt, desk::call& call, const context& with) {
    if (doubt.of_what == desk::call_in_doubt::about::registration)
        return call.again = with.ask(fmt::format("{} says the same ({}). Register it once more?", doubt.may_be[0].id,
                                                 doubt.may_be[0].name));
    for (const auto& each : doubt.may_be)
        if (with.ask(fmt::format("Is this grower {}{}?", each.in_words(), each.more.empty() ? "" : ", " + each.more))) {
            call.grower = each.id;
            return true;
        }
    return call.new_grower = with.ask(fmt::format("Is {} a new grower?", call.who));
}

void run_sizes(const options& how, context& with) {
    auto file = with.open();
    const auto id = id_meant(file, records::kind::cover, how.sizes_of, with);
    with.print(desk::sizes_told(file, id, call_of(how).covers, how.why, with.writing()));
}

void run_register(const options& how, context& with) {
    if (!how.sizes_of.empty()) return run_sizes(how, with);
    auto call = call_of(how);
    auto file = with.open();
    desk::look_up names{file};
    if (!call.site.empty()) call.site = names.id_of(records::kind::site, call.site);
    if (!call.grower.empty()) call.grower = names.id_of(records::kind::grower, call.grower);
    tell_found(names, with);
    while (true) {
        try {
            return with.print(desk::register_call(file, call, with.writing()));
        } catch (const desk::call_in_doubt& doubt) {
            if (!with.ask) throw;
            if (settled(doubt, call, with)) continue;
            with.err << "nothing was changed\n";
            with.exit = findings;
            return;
        }
    }
}

} // namespace

void add_register(const command& program, context& with) {
    auto sub =
        program.add("register", "a telephone call or a web form: grower, covers and bundles in one go, with labels");
    auto& how = program.keep<options>();
    auto& call = how.call;
    auto who = sub.value("WHO", call.who, "the grower's name (or id, e-mail, telephone); a new name is a new grower");
    auto grower = sub.value("--grower", call.grower, "this grower of the ledger, whatever the name");
    sub.flag("--new-grower", call.new_grower, "a new grower, though one like it is there").excludes(grower).needs(who);
    sub.value("--farm", call.farm, "of a new grower");
    sub.value("--town", call.town, "of a new grower");
    sub.value("--region", call.region, "of a new grower (the award's)");
    sub.value("--email", call.email, "of a new grower; also tells a known one");
    sub.value("--phone", call.phone, "of a new grower; also tells a known one");
    sub.value("--site", call.site, "where it is brought, by id or name");
    sub.value("--date", call.date, "the day of the call (today)");
    sub.value("--cover", how.sizes,
              "length x floor width in ft, with the ridge's height if known: 96x30, 96x30x12; once a cover")
        .many()
        .one_at_a_time();
    const auto of_covers = [&](const char* name, std::vector<std::string>& into, const char* what) {
        sub.value(name, into, what).many().one_at_a_time();
    };
    of_covers("--rise", how.rises, "floor to ridge, ft; this and what follows once for all covers, or once for each");
    of_covers("--layers", how.layers, "layers of film (1)");
    of_covers("--mil", how.mils, "thickness in mil");
    of_covers("--structure", how.structures, "such as high_tunnel");
    of_covers("--film", how.films, "such as clear");
    sub.value("--bundles", call.bundles,
              "how many bundles (as many as the covers' weight makes); without a cover each claims the usual weight");
    auto sizes = sub.value("--sizes", how.sizes_of,
                           "no new call: this registration's sizes, told later (with --cover and --why)")
                     .excludes(who);
    auto why = sub.value("--why", how.why, "with --sizes: how they came, in a sentence").needs(sizes);
    sizes.needs(why);
    sub.flag("--again", call.again, "though the grower has a registration for the site on this day");
    sub.value("--once", call.once, "a key of your own: the same key again changes nothing");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&how, &with] { run_register(how, with); });
}

} // namespace tarewell::cli
