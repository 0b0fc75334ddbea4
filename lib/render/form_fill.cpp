#include "render/form_fill.hpp"

#include "intake/map_file.hpp"
#include "intake/zip_rewrite.hpp"
#include "ledger/whole_file.hpp"
#include "records/nearest_name.hpp"
#include "render/form_places.hpp"
#include "render/form_writer.hpp"
#include "render/page_parts.hpp"

#include <algorithm>
#include <filesystem>
#include <set>

namespace tarewell::render {
namespace {

using desk::answer;
using desk::cell;
using desk::table;
using desk::value;

/// A figure or a text of the report, as a cell takes it.
struct fact {
    std::string name, shown, unit, reason;
    cell_content content;
};

cell_content content_of(const figures::value& of) {
    if (const auto* count = std::get_if<std::int64_t>(&of)) return written_number{std::to_string(*count)};
    if (const auto* weight = std::get_if<quantity::weight>(&of))
        return written_number{quantity::shortest_text({weight->count(), 3})};
    if (const auto* money = std::get_if<quantity::money>(&of))
        return written_number{quantity::shortest_text({money->count(), 2})};
    if (const auto* real = std::get_if<figures::real>(&of)) return written_number{fmt::format("{}", *real)};
    return {};
}

/// By their names in small letters, with '_' in the place of '.'.
class facts {
  public:
    explicit facts(const page_input& of) {
        for (const auto& each : of.report.figures)
            keep({each.name, figures::shown(each.value, each.unit), each.unit, each.reason, content_of(each.value)});
        const auto texts = [&](const std::string& group, const parts::named_texts& named) {
            for (const auto& [name, text] : named)
                keep({group + "." + name, text, "", text.empty() ? "it is not given" : "",
                      text.empty() ? cell_content{} : cell_content{text}});
        };
        texts("quarter", parts::quarter_texts(of));
        texts("award", parts::award_texts(of));
        texts("mark", parts::mark_texts(of));
        texts("signed", parts::signed_texts(of));
    }
    [[nodiscard]] const fact* find(std::string_view name) const {
        const auto found = by_name_.find(plain(name));
        return found == by_name_.end() ? nullptr : &found->second;
    }
    /// "; did you mean 'diverted_tons'?" or nothing.
    [[nodiscard]] std::string near(std::string_view name) const {
        std::vector<std::string> known;
        for (const auto& [key, of] : by_name_)
            known.push_back(of.name);
        return records::did_you_mean(name, known);
    }

  private:
    static std::string plain(std::string_view name) {
        std::string made;
        for (const char c : name)
            made += c == '.' ? '_' : c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        return made;
    }
    void keep(fact of) {
        auto key = plain(of.name);
        by_name_.emplace(std::move(key), std::move(of));
    }
    std::map<std::string, fact> by_name_;
};

/// One cell that gets a fact, and why.
struct filling {
    std::string sheet;
    cell_place at;
    const fact* what = nullptr;
    std::string by; ///< "name diverted_tons", "map"
    std::string note;
};

std::string place_text(const std::string& sheet, cell_place at) {
    const bool plain = std::all_of(sheet.begin(), sheet.end(), [](unsigned char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c >= 0x80;
    });
    return fmt::format("{}!{}", plain ? sheet : "'" + sheet + "'", text_of(at));
}

std::string file_text(const std::string& path) { return intake::table_file{path}.bytes(); }

class filler {
  public:
    filler(const fill_request& how, const page_input& of)
        : how_{how}, known_{of}, period_{of.report.basis.period}, bytes_{file_text(how.form)}, book_{bytes_} {
        for (const auto& each : book_.parts().names())
            check_part(book_.parts(), each);
        main_ = text_of_part(book_.parts(), book_.part());
        terms_ = terms_of_workbook(main_, book_.part());
        for (const auto& each : book_.sheets()) {
            xml_[each.name] = text_of_part(book_.parts(), each.part);
            shapes_[each.name] = shape_of(xml_[each.name], each.part);
            part_of_[each.name] = each.part;
        }
    }

    answer fill() {
        hold_to_kind();
        take_map();
        take_names();
        if (fillings_.empty() && faults_.empty())
            fault("no cell is named for a figure",
                  "name the cells in the spreadsheet program (such as diverted_tons), or say where figures go with "
                  "--map; "
                  "`tarewell quarter show` and `tarewell report names` list the names");
        if (!faults_.empty()) throw form_refused(faults_);
        write();
        return told();
    }

  private:
    void fault(const std::string& what, const std::string& right) {
        faults_.push_back(fmt::format("{}: {}; {}", how_.form, what, right));
    }

    /// A file with macros must be named so, or no program opens it; a template is none that can be filled.
    void hold_to_kind() {
        const auto types = text_of_part(book_.parts(), "[Content_Types].xml");
        macros_ = types.find("macroEnabled") != std::string::npos;
        const std::string ending = macros_ ? ".xlsm" : ".xlsx";
        if (types.find(".template") != std::string::npos)
            fault("is a template", "open it in the spreadsheet program and save it as " + ending);
        else if (!how_.file.ends_with(ending))
            fault(macros_ ? "holds macros, which stay in it" : "is a workbook without macros",
                  fmt::format("name the filled one with {} at its end", ending));
    }

    [[nodiscard]] const intake::workbook_sheet* sheet_called(const std::string& name) const {
        for (const auto& each : book_.sheets())
            if (records::same_but_for_case(each.name, name)) return &each;
        return nullptr;
    }

    void take_map() {
        if (how_.map.empty()) return;
        for (const auto& [key, name] : intake::read_map_file(file_text(how_.map), how_.map)) {
            auto rule = key;
            const bool of_cell = rule.starts_with("cells.");
            if (!of_cell && !rule.starts_with("names.")) {
                faults_.push_back(
                    fmt::format("{}: '{}' stands under no heading; write [cells] or [names] above it", how_.map, rule));
                continue;
            }
            rule.erase(0, rule.find('.') + 1);
            if (rule.size() > 1 && rule.front() == '"' && rule.back() == '"') rule = rule.substr(1, rule.size() - 2);
            const auto* what = known_.find(name);
            if (what == nullptr) {
                faults_.push_back(
                    fmt::format("{}: {}: no figure is called '{}'{}", how_.map, rule, name, known_.near(name)));
                continue;
            }
            if (of_cell)
                map_cell(rule, *what);
            else
                renamed_.emplace(rule, what);
        }
    }

    void map_cell(const std::string& rule, const fact& what) {
        const auto place = read_reference(rule);
        const auto* sheet = place ? sheet_called(place->sheet) : nullptr;
        if (!place)
            faults_.push_back(fmt::format("{}: '{}' is no cell; write it as \"Report!B5\"", how_.map, rule));
        else if (sheet == nullptr)
            faults_.push_back(fmt::format("{}: {}: the form has no sheet '{}' with cells{}", how_.map, rule,
                                          place->sheet, records::did_you_mean(place->sheet, sheet_names())));
        else
            put({sheet->name, place->area.from, &what, "map", ""}, place->area);
    }

    [[nodiscard]] std::vector<std::string> sheet_names() const {
        std::vector<std::string> names;
        for (const auto& each : book_.sheets())
            names.push_back(each.name);
        return names;
    }

    void take_names() {
        std::set<std::string> used;
        for (const auto& each : terms_.names) {
            if (each.name.starts_with("_xlnm.")) continue; // the program's own: print areas, filters
            const auto renamed = renamed_.find(each.name);
            const auto* what = renamed != renamed_.end() ? renamed->second : known_.find(each.name);
            used.insert(each.name);
            if (what == nullptr) {
                strangers_.push_back(each.name);
                continue;
            }
            const auto* sheet = sheet_called(each.sheet);
            if (sheet == nullptr)
                fault(fmt::format("the name {} stands for {}, which is no cell of it", each.name, each.refers),
                      "let it stand for one cell, or give another name");
            else
                put({sheet->name, each.area.from, what, "name " + each.name, ""}, each.area);
        }
        for (const auto& [name, what] : renamed_)
            if (!used.contains(name))
                faults_.push_back(fmt::format("{}: the form defines no name '{}'{}", how_.map, name,
                                              records::did_you_mean(name, strangers_)));
    }

    void put(filling one, const sheet_shape::area& area) {
        const auto& shape = shapes_.at(one.sheet);
        one.at = shape.shown(area.from);
        const bool is_one = area.from == area.to ||
                            std::any_of(shape.merged.begin(), shape.merged.end(),
                                        [&](const auto& each) { return each.from == area.from && each.to == area.to; });
        if (!is_one) one.note = fmt::format("the first of {}:{}", text_of(area.from), text_of(area.to));
        if (shape.is_computed(one.at)) {
            computed_.push_back(fmt::format("{} ({}): the cell has a formula of the form's own, which stays",
                                            place_text(one.sheet, one.at), one.what->name));
            return;
        }
        const auto [known, fresh] = fillings_.emplace(std::pair{one.sheet, one.at}, one);
        if (!fresh && known->second.what != one.what && known->second.by != "map")
            fault(fmt::format("{} is named for {} and for {}", place_text(one.sheet, one.at), known->second.what->name,
                              one.what->name),
                  "a cell holds one of them");
    }

    void write() {
        if (std::error_code none; std::filesystem::equivalent(how_.form, how_.file, none))
            throw records::input_error(
                fmt::format("{} is the form itself, which stays as it is; write to another file", how_.file));
        std::map<std::string, std::map<cell_place, cell_content>> by_sheet;
        for (const auto& [place, one] : fillings_)
            by_sheet[place.first].emplace(place.second, one.what->content);
        std::map<std::string, std::string> anew;
        for (const auto& [sheet, shape] : shapes_) {
            computes_ = computes_ || !shape.formulas.empty();
            if (by_sheet.contains(sheet) || !shape.formulas.empty())
                anew[part_of_.at(sheet)] = with_cells(xml_.at(sheet), by_sheet[sheet], part_of_.at(sheet));
        }
        if (computes_) anew[book_.part()] = with_calculation(main_, terms_);
        const auto made = intake::with_parts(bytes_, anew);
        hold_against(made, by_sheet);
        ledger::write_whole(how_.file, made);
    }

    /// What was made is read again, as a stranger would read it.
    void hold_against(const std::string& made,
                      const std::map<std::string, std::map<cell_place, cell_content>>& by_sheet) const {
        const intake::workbook again{made};
        if (again.sheets().size() != book_.sheets().size()) throw std::logic_error("the filled form has other sheets");
        for (const auto& [sheet, cells] : by_sheet) {
            const auto& part = part_of_.at(sheet);
            const auto found = contents_of(text_of_part(again.parts(), part), part);
            for (const auto& [at, content] : cells) {
                const auto* number = std::get_if<written_number>(&content);
                const auto* text = std::get_if<std::string>(&content);
                const auto there = found.find(at);
                const auto& wanted = number != nullptr ? number->digits : text != nullptr ? *text : std::string{};
                if ((there == found.end() ? std::string{} : there->second) != wanted)
                    throw std::logic_error(
                        fmt::format("{} of the filled form holds another value", place_text(sheet, at)));
            }
        }
    }

    [[nodiscard]] std::vector<std::string> remarks() const {
        std::vector<std::string> made;
        const auto has = [&](const char* what) { return bytes_.find(what) != std::string::npos; };
        if (!period_.is_quarter())
            made.push_back(
                fmt::format("the figures are those of {}, which is no quarter; see that the form's own words fit",
                            quantity::text_of(period_)));
        if (has("_xmlsignatures/"))
            made.emplace_back(
                "the form was signed digitally: the signature no longer holds, since its cells changed; sign it "
                "anew");
        if (macros_)
            made.emplace_back("the form holds macros: they stay as they are, and nobody looked at what they do");
        if (has("xl/externalLinks/"))
            made.emplace_back("the form links to other files: the links stay, with what they last showed");
        if (computes_)
            made.emplace_back(
                "the form's own formulas are reckoned anew when it is opened; until then they show nothing");
        for (const auto& each : computed_)
            made.push_back(each);
        return made;
    }

    answer told() const {
        answer made;
        table filled{{"figure", "value", "unit", "cell", "by", "note"}};
        table without{{"figure", "cell", "why=reason"}};
        for (const auto& [place, one] : fillings_) {
            const auto at = place_text(one.sheet, one.at);
            const bool empty = std::holds_alternative<std::monostate>(one.what->content);
            if (empty)
                without.add({one.what->name, at, one.what->reason});
            else
                filled.add({one.what->name, one.what->shown, one.what->unit, at, one.by, one.note});
        }
        made.data["filled"] = filled.rows();
        made.data["without_value"] = without.rows();
        if (!filled.empty()) made.show(filled);
        if (!without.empty()) {
            made.say("\nwithout a value: the cells were emptied\n");
            made.show(without);
        }
        auto& names = made.data["other_names"] = value::array();
        if (!strangers_.empty()) made.say("\nnames of the form that are no figures, left as they are:\n");
        for (const auto& each : strangers_) {
            made.say("  {}{}\n", each, known_.near(each));
            names.push_back(each);
        }
        const auto more = remarks();
        if (!more.empty()) made.say("\n");
        for (const auto& each : more)
            made.say("{}\n", each);
        made.data["remarks"] = more;
        made.data["file"] = how_.file;
        return made;
    }

    const fill_request& how_;
    facts known_;
    quantity::period period_;
    std::string bytes_;
    intake::workbook book_;
    std::string main_;
    workbook_terms terms_;
    std::map<std::string, std::string> xml_, part_of_;
    std::map<std::string, sheet_shape> shapes_;
    std::map<std::string, const fact*> renamed_;
    std::map<std::pair<std::string, cell_place>, filling> fillings_;
    std::vector<std::string> strangers_, computed_, faults_;
    bool macros_ = false, computes_ = false;
};

} // namespace

answer fill_form(const fill_request& how, const desk::quarter_seen& shown) {
    const auto input = input_of({{}, how.file}, shown);
    try {
        return filler{how, input}.fill();
    } catch (const intake::unreadable& wrong) {
        throw form_refused({fmt::format("{}: {}; {}", how.form, wrong.what(), wrong.right)});
    }
}

} // namespace tarewell::render
