#include "render/paper_template.hpp"

#include "records/nearest_name.hpp"
#include "render/built_in_papers.hpp"
#include "render/form_writer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <set>

namespace tarewell::render {
namespace {

constexpr std::string_view ending = ".mustache", part_prefix = "paper_part_";

struct tag {
    std::size_t line;
    std::string name;
};

/// The names of a template's tags, comments left out.
std::vector<tag> tags_of(std::string_view text) {
    std::vector<tag> tags;
    for (std::size_t at = text.find("{{"); at != std::string_view::npos; at = text.find("{{", at)) {
        const auto end = std::min(text.find("}}", at), text.size());
        auto name = text.substr(at + 2, end - at - 2);
        const auto from = name.find_first_not_of("{&#^/> ");
        const auto line =
            static_cast<std::size_t>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n')) +
            1;
        at = end;
        if (name.starts_with('!') || from == std::string_view::npos) continue;
        name.remove_prefix(from);
        tags.push_back({line, std::string{name.substr(0, name.find(' '))}});
    }
    return tags;
}

void learn_names(const desk::value& of, std::set<std::string>& names) {
    if (const auto* all = of.list())
        for (const auto& each : *all)
            learn_names(each, names);
    if (const auto* fields = of.named())
        for (const auto& [name, inner] : *fields) {
            names.insert(name);
            learn_names(inner, names);
        }
}

/// Every name that a sheet's template may use: those of its data, and those that built-in files use where a list of the
/// data happens to be empty.
std::vector<std::string> known_names(const std::string& file, const desk::value& data) {
    std::set<std::string> names;
    learn_names(data, names);
    for (const auto& each : ledger::paper_files()) {
        if (each.name.starts_with(part_prefix)) names.emplace(each.name.substr(0, each.name.size() - ending.size()));
        if (each.name == file || each.name.starts_with(part_prefix))
            for (auto& used : tags_of(each.text))
                names.insert(std::move(used.name));
    }
    return {names.begin(), names.end()};
}

class shelf {
  public:
    shelf(std::string folder, std::vector<std::string> known) : folder_{std::move(folder)}, known_{std::move(known)} {}

    std::vector<std::string> faults;

    form_text take(std::string_view file) {
        if (const auto path = std::filesystem::path{folder_} / file;
            !folder_.empty() && std::filesystem::exists(path)) {
            auto own = form_in_file(path.string());
            for (const auto& used : tags_of(own.text))
                if (!std::binary_search(known_.begin(), known_.end(), used.name))
                    faults.push_back(fmt::format("{}:{}:{}: this sheet has nothing of that name; did you mean {}?",
                                                 own.file, used.line, used.name,
                                                 records::nearest_name(used.name, known_)));
            return own;
        }
        for (const auto& each : ledger::paper_files())
            if (each.name == file) return {fmt::format("{} (built in)", file), std::string{each.text}};
        throw std::logic_error(fmt::format("there is no {}", file));
    }

  private:
    std::string folder_;
    std::vector<std::string> known_; ///< ascending
};

} // namespace

paper_template paper_template_for(const std::string& name, const std::string& folder, const desk::value& data) {
    const form_shelf there{folder}; // says so where the folder is not
    const auto file = fmt::format("paper_{}{}", name, ending);
    shelf of{folder, known_names(file, data)};
    paper_template made{of.take(file), {}};
    for (const auto& each : ledger::paper_files())
        if (each.name.starts_with(part_prefix))
            made.parts.emplace_back(each.name.substr(0, each.name.size() - ending.size()), of.take(each.name).text);
    if (!of.faults.empty()) throw form_refused(of.faults);
    return made;
}

} // namespace tarewell::render
