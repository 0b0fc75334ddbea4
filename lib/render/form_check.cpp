#include "render/form_check.hpp"

#include "records/nearest_name.hpp"
#include "render/form_names.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace tarewell::render {
namespace {

struct tag {
    char kind = ' '; ///< as Mustache writes it: # ^ / > & ! = or a blank for text; { counts as &
    std::string name;
    std::size_t line = 0;
};

std::string trimmed(std::string_view text) {
    const auto from = text.find_first_not_of(" \t\r\n");
    if (from == std::string_view::npos) return {};
    return std::string{text.substr(from, text.find_last_not_of(" \t\r\n") - from + 1)};
}

constexpr std::size_t deepest_part = 8;   // a part that brings in itself never ends
constexpr std::size_t most_parts = 1'000; // parts that each bring in many others come to millions

class checker {
  public:
    checker(const find_part& parts, form_check& found) : parts_{parts}, found_{found} {}

    void read(const form_text& form, std::size_t depth) {
        const auto file = std::exchange(file_, form.file);
        const auto opened = open_.size();
        std::size_t at = 0, line = 1;
        const auto& text = form.text;
        while (true) {
            const auto begin = text.find("{{", at);
            line += lines_in(text, at, std::min(begin, text.size()));
            if (begin == std::string::npos) break;
            const bool raw = text.compare(begin, 3, "{{{") == 0;
            const std::string_view closing = raw ? "}}}" : "}}";
            const auto inner = begin + closing.size();
            const auto end = text.find(closing, inner);
            if (end == std::string::npos) {
                fault(line, trimmed(std::string_view{text}.substr(begin, 24)), "the tag is not closed",
                      fmt::format("end it with {}", closing));
                break;
            }
            take(read_tag(std::string_view{text}.substr(inner, end - inner), raw, line), depth);
            at = end + closing.size();
            line += lines_in(text, begin, at);
        }
        while (open_.size() > opened) {
            const auto& last = open_.back();
            fault(last.line, last.name, "the section is not closed", fmt::format("end it with {{{{/{}}}}}", last.name));
            open_.pop_back();
        }
        file_ = file;
    }

  private:
    struct section {
        std::string name;
        std::size_t line = 0;
        const form_name* context = nullptr; ///< where names are looked up first; none: as outside
        std::string root;                   ///< the outermost name that it lies in
        std::size_t part = 0;               ///< depth of the part that opened it
    };

    const find_part& parts_;
    form_check& found_;
    std::string file_;
    std::vector<section> open_;
    std::size_t parts_read_ = 0;
    bool endless_ = false; ///< told once; parts are then left out

    static std::size_t lines_in(const std::string& text, std::size_t from, std::size_t to) {
        return static_cast<std::size_t>(std::count(text.begin() + static_cast<std::ptrdiff_t>(from),
                                                   text.begin() + static_cast<std::ptrdiff_t>(to), '\n'));
    }

    static tag read_tag(std::string_view inside, bool raw, std::size_t line) {
        auto text = trimmed(inside);
        if (raw) return {'&', text, line};
        constexpr std::string_view kinds = "#^/>&!=";
        if (text.empty() || kinds.find(text.front()) == std::string_view::npos) return {' ', text, line};
        return {text.front(), trimmed(std::string_view{text}.substr(1)), line};
    }

    void fault(std::size_t line, const std::string& name, const std::string& what, const std::string& right) {
        found_.faults.push_back(records::finding{line, name, what, right}.text(file_));
    }

    void take(const tag& each, std::size_t depth) {
        switch (each.kind) {
        case '!':
            return;
        case '=':
            return fault(each.line, each.name, "a form keeps the delimiters {{ and }}", "take this tag out");
        case '>':
            return bring_in(each, depth);
        case '/':
            return close(each, depth);
        case '#':
        case '^':
            return open(each, depth);
        default:
            print(each);
        }
    }

    const form_name* look_up(const tag& each, std::string* root) {
        for (auto at = open_.rbegin(); at != open_.rend(); ++at)
            if (at->context != nullptr)
                if (const auto* known = at->context->resolve(each.name)) {
                    *root = at->root;
                    return known;
                }
        if (const auto* known = all_form_names().resolve(each.name)) {
            *root = each.name.substr(0, each.name.find('.'));
            found_.used.insert(*root);
            return known;
        }
        unknown(each);
        return nullptr;
    }

    static void offer(const form_name& from, std::vector<std::string>& known) {
        for (const auto& child : from.inside) {
            known.push_back(child.name);
            if (child.kind != name_kind::group) continue;
            for (const auto& inner : child.inside) {
                known.push_back(child.name + "." + inner.name);
                if (inner.kind == name_kind::group)
                    for (const auto& last : inner.inside)
                        known.push_back(child.name + "." + inner.name + "." + last.name);
            }
        }
    }

    void unknown(const tag& each) {
        static const auto everywhere = [] {
            std::vector<std::string> known;
            offer(all_form_names(), known);
            return known;
        }();
        std::vector<std::string> known;
        for (const auto& outer : open_)
            if (outer.context != nullptr) offer(*outer.context, known);
        known.insert(known.end(), everywhere.begin(), everywhere.end());
        fault(each.line, each.name, "there is no such name here",
              fmt::format("the nearest is {}", records::nearest_name(each.name, known)));
    }

    void open(const tag& each, std::size_t depth) {
        std::string root;
        const auto* known = look_up(each, &root);
        const bool enters =
            each.kind == '#' && known != nullptr && (known->kind == name_kind::group || known->kind == name_kind::list);
        open_.push_back({each.name, each.line, enters ? known : nullptr, root, depth});
    }

    void close(const tag& each, std::size_t depth) {
        if (open_.empty() || open_.back().part != depth)
            return fault(each.line, each.name, "no section is open here",
                         fmt::format("begin it with {{{{#{}}}}} or take this tag out", each.name));
        if (open_.back().name != each.name)
            fault(each.line, each.name, fmt::format("the open section is {}", open_.back().name),
                  fmt::format("close {} first, begun in line {}", open_.back().name, open_.back().line));
        open_.pop_back();
    }

    void print(const tag& each) {
        std::string root;
        const auto* known = look_up(each, &root);
        if (known == nullptr) return;
        const bool raw = each.kind == '&';
        if (known->kind == name_kind::markup && !raw)
            fault(each.line, each.name, "a picture would be written out as text",
                  fmt::format("write {{{{{{{}}}}}}}", each.name));
        else if (known->kind == name_kind::text && raw)
            fault(each.line, each.name, "text would go into the page unescaped",
                  fmt::format("write {{{{{}}}}}", each.name));
        else if (known->kind != name_kind::text && known->kind != name_kind::markup)
            fault(each.line, each.name, fmt::format("it is a {} and prints nothing", name_of(known->kind)),
                  fmt::format("open it with {{{{#{}}}}}", each.name));
    }

    void bring_in(const tag& each, std::size_t depth) {
        if (endless_) return;
        endless_ = depth == deepest_part || parts_read_ == most_parts;
        if (depth == deepest_part)
            return fault(each.line, each.name, "parts bring each other in without end", "take this tag out");
        if (endless_)
            return fault(each.line, each.name, fmt::format("parts bring each other in more than {} times", most_parts),
                         "take this tag out");
        const auto part = parts_(each.name);
        if (!part)
            return fault(each.line, each.name, fmt::format("there is no part {}.mustache", each.name),
                         "put it beside the form, or name a part that is built in");
        ++parts_read_;
        found_.parts.insert(each.name);
        read(*part, depth + 1);
    }
};

} // namespace

form_check check_form(const form_text& form, const find_part& parts) {
    form_check found;
    checker{parts, found}.read(form, 0);
    return found;
}

} // namespace tarewell::render
