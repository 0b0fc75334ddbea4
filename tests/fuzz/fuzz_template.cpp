// Feeds any bytes to the check of forms: a form, and after each zero byte a part, which tags call a, b, c and so on.
// A form that is found without fault must be read by the renderer too, bring in only parts that are there, and
// have its sections closed by a count of them made apart. Every fault must name a line that the form or part has.
#include "render/form_check.hpp"

#include <kainjow/mustache.hpp>

#include <algorithm>
#include <charconv>
#include <cstdio>
#include <cstdlib>

using namespace tarewell;

namespace {

void need(bool holds, const char* what) {
    if (holds) return;
    std::fprintf(stderr, "%s\n", what);
    std::abort();
}

/// The form and its parts, called "a", "b" and so on to "z"; what comes after is left out.
std::vector<render::form_text> texts_in(std::string_view bytes) {
    std::vector<render::form_text> texts;
    while (true) {
        const auto end = std::min(bytes.find('\0'), bytes.size());
        const auto number = texts.size();
        texts.push_back({number == 0 ? "form" : std::string(1, static_cast<char>('a' + number - 1)),
                         std::string{bytes.substr(0, end)}});
        if (end == bytes.size() || number == 26) return texts;
        bytes.remove_prefix(end + 1);
    }
}

/// "FILE:LINE:NAME: what; what would be right", of a line that is there. A name may hold a line end.
void check_fault(const std::string& fault, const std::vector<render::form_text>& texts) {
    const auto colon = fault.find(':');
    need(colon != std::string::npos, "a fault without a file");
    const auto file = fault.substr(0, colon);
    const auto text = std::find_if(texts.begin(), texts.end(), [&](const auto& each) { return each.file == file; });
    need(text != texts.end(), "a fault of a file that is not there");
    std::size_t line = 0;
    const auto [end, failed] = std::from_chars(fault.data() + colon + 1, fault.data() + fault.size(), line);
    need(failed == std::errc{} && *end == ':', "a fault without a line");
    const auto lines = 1 + std::count(text->text.begin(), text->text.end(), '\n');
    need(line >= 1 && line <= static_cast<std::size_t>(lines), "a fault of a line that is not there");
    need(fault.find("; ") != std::string::npos, "a fault that does not say what would be right");
}

/// Sections opened less sections closed, by the letter after the two braces alone.
long sections_left_open(std::string_view text) {
    long open = 0;
    for (std::size_t at = 0; (at = text.find("{{", at)) != std::string_view::npos;) {
        const bool raw = text.substr(at).starts_with("{{{");
        const auto end = text.find(raw ? "}}}" : "}}", at + (raw ? 3 : 2));
        if (end == std::string_view::npos) return -1;
        const auto first = text.find_first_not_of(" \t\r\n", at + 2);
        if (!raw && (text[first] == '#' || text[first] == '^')) ++open;
        if (!raw && text[first] == '/') --open;
        at = end + (raw ? 3 : 2);
    }
    return open;
}

void check_faultless(const std::vector<render::form_text>& texts, const render::form_check& found) {
    for (const auto& text : texts) {
        if (&text != &texts.front() && !found.parts.contains(text.file)) continue; // a part that nothing brings in
        need(sections_left_open(text.text) == 0, "a section that is left open has no fault");
        kainjow::mustache::mustache form{text.text};
        need(form.is_valid(), "the renderer cannot read what has no fault");
    }
    for (const auto& part : found.parts)
        need(std::any_of(texts.begin() + 1, texts.end(), [&](const auto& each) { return each.file == part; }),
             "a part that is not there has no fault");
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
    const auto texts = texts_in({reinterpret_cast<const char*>(data), size});
    const auto find = [&](const std::string& name) -> std::optional<render::form_text> {
        const auto found =
            std::find_if(texts.begin() + 1, texts.end(), [&](const auto& each) { return each.file == name; });
        if (found == texts.end()) return std::nullopt;
        return *found;
    };
    const auto found = render::check_form(texts.front(), find);
    for (const auto& fault : found.faults)
        check_fault(fault, texts);
    if (found.faults.empty()) check_faultless(texts, found);
    return 0;
}
