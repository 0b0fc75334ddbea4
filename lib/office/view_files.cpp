#include "desk/answer.hpp"
#include "desk/echo.hpp"
#include "desk/labels.hpp"
#include "figures/flags.hpp"
#include "intake/intake.hpp"
#include "office/scratch.hpp"
#include "office/views.hpp"

#include <fmt/format.h>

namespace tarewell::office {
namespace {

/// What a file would become, or became.
struct taken {
    intake::file_summary summary;
    std::string raised;
};

/// The file's messages name it as the person knows it, not where it lay meanwhile.
std::string without(std::string text, const std::string& folder) {
    for (auto at = text.find(folder); at != std::string::npos; at = text.find(folder))
        text.erase(at, folder.size());
    return text;
}

taken take(state& of, const waiting_file& file, bool dry_run) {
    const scratch_folder folder;
    const auto path = folder.write(file.name, file.bytes);
    const auto before = path.substr(0, path.size() - plain_name(file.name).size());
    auto& ledger = of.kept.file();
    const auto first_new = ledger.head().seq + 1;
    std::vector<reconcile::flag> flags;
    intake::intake_options how{dry_run, {}, [&](const records::season& with_it) {
                                   if (first_new <= desk::most_entries_told_at_once)
                                       flags = figures::flags_of(with_it, reconcile::reckon(with_it));
                               }};
    try {
        taken made;
        made.summary = intake::take_file(ledger, records::find_kind(file.kind)->which, path, of.around, how);
        made.summary.file = plain_name(file.name);
        made.raised = desk::raised_by_intake(flags, first_new, {made.summary});
        return made;
    } catch (const records::refused& refusal) {
        auto lines = refusal.lines();
        for (auto& each : lines)
            each = without(std::move(each), before);
        throw records::refused(std::move(lines));
    }
}

value kinds_of_files(const std::string& chosen) {
    auto kinds = value::array();
    for (const auto& kind : records::recorded_kinds())
        kinds.push_back({{"kind", kind.name},
                         {"label", fmt::format("{} ({}.csv)", desk::label_of(kind), kind.file)},
                         {"chosen", chosen == kind.name}});
    return kinds;
}

/// The kind that a file's name tells, as receipts.csv or receipts-2026-10-03.csv does.
std::string kind_told_by(const std::string& name) {
    std::string found;
    std::size_t longest = 0;
    for (const auto& kind : records::recorded_kinds())
        if (name.starts_with(kind.file) && kind.file.size() > longest) {
            found = kind.name;
            longest = kind.file.size();
        }
    return found;
}

value lines_of(const std::string& text) {
    auto lines = value::array();
    for (std::size_t from = 0; from < text.size();) {
        const auto end = std::min(text.find('\n', from), text.size());
        if (end > from) lines.push_back(text.substr(from, end - from));
        from = end + 1;
    }
    return lines;
}

value blank_data(const std::string& kind) {
    value data{{"kinds", kinds_of_files(kind)}, {"seen", nullptr}, {"done", nullptr}};
    put_list(data, "wrong", value::array());
    return data;
}

value summary_data(const taken& of) {
    value data{{"file", of.summary.file},
               {"kind", of.summary.kind_file},
               {"rows", of.summary.rows},
               {"new", of.summary.taken},
               {"known", of.summary.known == 0 ? value{} : value{of.summary.known}},
               {"first", of.summary.first},
               {"last", of.summary.last},
               {"any_new", of.summary.taken > 0}};
    put_list(data, "notes", of.summary.notes);
    put_list(data, "raised", lines_of(of.raised));
    return data;
}

response show_refused(state& of, const waiting_file& file, const records::refused& refusal) {
    auto data = blank_data(file.kind);
    put_list(data, "wrong", refusal.lines());
    data["file"] = plain_name(file.name);
    data["count"] = desk::counted(refusal.lines().size(), "fault", "faults");
    return page(of, "files", "Files", std::move(data), 422);
}

response look_at(state& of, waiting_file file) {
    try {
        auto data = blank_data(file.kind);
        data["seen"] = summary_data(take(of, file, true));
        const auto name = of.around.random();
        data["seen"]["waiting"] = name;
        of.waiting.keep(name, std::move(file));
        return page(of, "files", "Files", std::move(data));
    } catch (const records::refused& refusal) {
        return show_refused(of, file, refusal);
    }
}

} // namespace

response show_files(state& of, const call& /*from*/) { return page(of, "files", "Files", blank_data({})); }

response take_file(state& of, const call& from) {
    if (from.sent.has("waiting")) {
        const auto* file = of.waiting.find(from.sent.text("waiting"));
        if (file == nullptr) throw records::input_error("that file is not at hand any more; send it once more");
        try {
            auto data = blank_data({});
            data["done"] = summary_data(take(of, *file, false));
            return page(of, "files", "Files", std::move(data));
        } catch (const records::refused& refusal) { // the ledger moved since it was looked at
            return show_refused(of, *file, refusal);
        }
    }
    const auto* sent = from.sent.find("file");
    if (sent == nullptr || !sent->file_name || sent->file_name->empty())
        throw records::input_error("no file was sent; choose one and send it again");
    waiting_file file{from.sent.text("kind"), *sent->file_name, sent->value};
    if (file.kind.empty()) file.kind = kind_told_by(plain_name(file.name));
    const auto* kind = records::find_kind(file.kind);
    if (kind == nullptr || kind->internal)
        throw records::input_error(
            fmt::format("the name {} does not say what it holds; choose it from the list", plain_name(file.name)));
    return look_at(of, std::move(file));
}

} // namespace tarewell::office
