#include "context.hpp"
#include "desk/keeping.hpp"
#include "desk/maps.hpp"
#include "intake/map_file.hpp"
#include "ledger/whole_file.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <ostream>

namespace tarewell::cli {
namespace {

struct map_options {
    std::string name, from, kind, file, export_to, why;
    std::vector<std::string> set, without;
    bool rules = false, remove = false;
};

intake::map_rules rules_given(const map_options& how) {
    intake::map_rules rules;
    if (!how.file.empty()) rules = intake::read_map_file(desk::text_of_file(how.file), how.file);
    for (const auto& each : how.set) {
        const auto sign = each.find('=');
        if (sign == std::string::npos || sign == 0)
            throw records::input_error(fmt::format("--set '{}' is no rule; write such as --set dates=mdy", each));
        rules[each.substr(0, sign)] = each.substr(sign + 1);
    }
    return rules;
}

void propose(const map_options& how, context& with) {
    std::optional<records::kind> of;
    if (!how.kind.empty()) {
        const auto* kind = records::find_kind(how.kind);
        if (kind == nullptr || kind->internal)
            throw records::input_error(fmt::format("'{}' is no kind of record, such as tickets", how.kind));
        of = kind->which;
    }
    intake::table_file file{how.from};
    const auto proposed = intake::propose_map(file, of);
    with.out << intake::map_file_of(proposed.rules, proposed.said);
    with.err << fmt::format(
        "a proposal: save it (... > {0}.toml), mend it, and keep it with: tarewell intake map {0} --file "
        "{0}.toml\n",
        how.name);
}

/// As a text file that `--file` reads, or another ledger's.
void export_map(const map_options& how, context& with) {
    ledger::write_whole(how.export_to, desk::map_of(desk::looked_at{with.open()}, how.name).text());
    with.out << fmt::format("wrote map {0} to {1}; to take it in again: tarewell intake map {0} --file {1}\n", how.name,
                            how.export_to);
}

std::vector<std::string> all_rules_of(const ledger::ledger_file& file, const std::string& map) {
    std::vector<std::string> names;
    file.for_each_with(records::kind::map_rule, "map", map, file.head().seq,
                       [&](const ledger::stored_row& stored) { names.emplace_back(stored.values["rule"]); });
    if (names.empty()) static_cast<void>(intake::map_named(file, map)); // says which there are
    return names;
}

void run_map(const map_options& how, context& with) {
    if (how.rules) return with.print(desk::rules_of_maps());
    if (how.name.empty()) return with.print(desk::maps_of(desk::looked_at{with.open()}));
    if (!how.from.empty()) return propose(how, with);
    if (!how.export_to.empty()) return export_map(how, with);
    const auto rules = rules_given(how);
    if (rules.empty() && how.without.empty() && !how.remove)
        return with.print(desk::map_of(desk::looked_at{with.open()}, how.name));
    auto file = with.open();
    const auto change = intake::keep_map(file, how.name, rules, how.remove ? all_rules_of(file, how.name) : how.without,
                                         how.why, with.writing());
    with.out << (change.entries.empty() ? change.note
                                        : fmt::format("map {}: {} kept (entries {} to {})", how.name,
                                                      desk::counted(change.entries.size(), "rule", "rules"),
                                                      change.entries.front(), change.entries.back()))
             << '\n';
    if (how.remove) return;
    try {
        static_cast<void>(intake::map_named(file, how.name));
    } catch (const records::refused& incomplete) {
        with.err << "not whole yet:\n";
        for (const auto& each : desk::with_words_of_keys(incomplete.lines()))
            with.err << each << '\n';
    } catch (const records::input_error& gone) {
        with.err << "not whole yet:\n" << gone.what() << '\n';
    }
}

} // namespace

void add_map(const command& intake, context& with) {
    auto sub = intake.add("map", "how other people's sheets are laid out: list, show, propose, keep");
    auto& how = intake.keep<map_options>();
    sub.value("NAME", how.name, "the map; without it all are listed");
    sub.value("--from", how.from, "propose a map for this file, by its headings and values");
    sub.value("--kind", how.kind,
              "with --from: what the file's rows are, such as tickets; without it, a form's registrations");
    sub.value("--file", how.file, "keep the rules in this text file, as `intake map NAME` prints them");
    sub.value("--export", how.export_to, "write the map to this file, as --file reads it");
    sub.value("--set", how.set, "keep a rule, such as dates=mdy; may be given many times").many().one_at_a_time();
    sub.value("--unset", how.without, "take a rule out; may be given many times").many().one_at_a_time();
    auto why = sub.value("--why", how.why, "why the map changes");
    sub.flag("--remove", how.remove, "take the whole map out; its rules stay in the journal").needs(why);
    sub.flag("--rules", how.rules, "list what a map can say");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&how, &with] { run_map(how, with); });
}

} // namespace tarewell::cli
