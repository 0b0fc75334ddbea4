#include "office/views.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <new>

namespace tarewell::office {
namespace {

constexpr std::size_t longest_form = 256 * 1024, longest_file = 32 * 1024 * 1024;

struct route {
    std::string_view method, path;
    response (*answer)(state&, const call&);
    bool brings_file = false;
};

constexpr route routes[] = {
    {"GET", "/", show_today},
    {"GET", "/enter", show_entry},
    {"POST", "/enter", take_entry},
    {"GET", "/sites", show_sites},
    {"GET", "/register", show_call},
    {"POST", "/register", take_call},
    {"GET", "/correct", show_change},
    {"POST", "/correct", take_change},
    {"POST", "/void", take_void},
    {"GET", "/find", show_found},
    {"GET", "/record", show_record},
    {"POST", "/document", take_document, true},
    {"GET", "/document", give_document},
    {"GET", "/quarter", show_quarter},
    {"GET", "/flags", show_flags},
    {"GET", "/form", give_form},
    {"POST", "/close", take_closing},
    {"POST", "/withdraw", take_withdrawal},
    {"GET", "/files", show_files},
    {"POST", "/files", take_file, true},
    {"GET", "/records", give_records},
    {"GET", "/map", show_map},
    {"POST", "/map", take_map},
    {"GET", "/acts", show_acts},
    {"GET", "/undo", show_undo},
    {"POST", "/undo", take_undo},
    {"POST", "/merge", take_merge},
    {"GET", "/evidence", give_evidence},
    {"GET", "/audit", show_audit},
    {"POST", "/confirm", take_confirmation},
    {"GET", "/who", show_who},
    {"POST", "/who", take_who},
};

const route* route_of(const request& asked) {
    const std::string_view method = asked.method == "HEAD" ? "GET" : asked.method;
    const auto* found = std::find_if(std::begin(routes), std::end(routes), [&](const route& each) {
        return each.method == method && each.path == asked.path();
    });
    return found == std::end(routes) ? nullptr : found;
}

response not_here(const state& of) {
    return message(of, 404, "There is no such page", {"Go on from Today, or look for it under Find."});
}

/// What went wrong, told on a page. What the ledger refused, line by line.
response told(const state& of, const std::function<response()>& made) {
    try {
        return made();
    } catch (const records::refused& refusal) {
        return message(of, 422, "Nothing was changed", refusal.lines());
    } catch (const records::input_error& wrong) {
        return message(of, 422, "That can't be done", {wrong.what()});
    } catch (const records::busy_error& wrong) {
        return message(of, 503, "The ledger is in use", {wrong.what(), "Nothing was changed. Try again in a moment."});
    } catch (const records::io_error& wrong) {
        return message(of, 500, "A file could not be read or written", {wrong.what()});
    } catch (const records::ledger_error& wrong) {
        return message(of, 500, "The ledger can't be trusted", {wrong.what()});
    } catch (const std::bad_alloc&) {
        return message(of, 500, "Memory ran out", {"Close other programs and try again: nothing was recorded twice."});
    }
}

/// A form of ours, by its token and where it comes from; none otherwise.
std::optional<form> form_of_ours(const state& of, const request& asked) {
    if (!of.door.comes_from_here(asked)) return std::nullopt;
    auto sent = read_form(asked.header("content-type").value_or(""), asked.body);
    if (!sent || !of.door.is_token(sent->text("token"))) return std::nullopt;
    return sent;
}

response answer_known(state& of, const request& asked) {
    const auto* to = route_of(asked);
    if (to == nullptr) return not_here(of);
    call from{asked, {}, {}};
    if (asked.method == "POST") {
        auto sent = form_of_ours(of, asked);
        if (!sent)
            return message(
                of, 403, "Nothing was changed",
                {"This did not come from a form of this page. Go back, load the page again and send it once more."});
        from.sent = std::move(*sent);
    }
    const std::string_view target{asked.target};
    const auto mark = target.find('?');
    auto query = read_urlencoded(mark == std::string_view::npos ? "" : target.substr(mark + 1));
    if (!query) return not_here(of);
    from.query = std::move(*query);
    if (of.around.who.empty() && to->path != "/who") return show_who(of, from);
    return to->answer(of, from);
}

} // namespace

std::size_t longest_body(const state& of, const request& head) {
    if (head.method != "POST" || of.door.refuses_form_of(head) || !of.door.knows(head) ||
        !of.door.comes_from_here(head))
        return 0;
    const auto* to = route_of(head);
    return to == nullptr ? 0 : to->brings_file ? longest_file : longest_form;
}

response answer(state& of, const request& asked) {
    auto made = [&]() -> response {
        if (auto refusal = of.door.refuses_form_of(asked)) return *refusal;
        if (asked.path() == "/office.css") return style_file();
        if (asked.path() == "/office.js") return script_file();
        if (auto let_in = of.door.exchanges_key(asked)) return *let_in;
        return told(of, [&] { return of.door.knows(asked) ? answer_known(of, asked) : stranger_page(); });
    }();
    put_guards(made);
    return made;
}

const records::kind_info& kind_of(const form& named) {
    // A form of a kind has a field of each column's name, and an in-kind contribution's is `kind`.
    const auto name = named.text(named.has("record_kind") ? "record_kind" : "kind");
    const auto* kind = records::find_kind(name);
    if (kind == nullptr || kind->internal)
        throw records::input_error(fmt::format("'{}' is no kind of record, such as ticket", name));
    return *kind;
}

std::vector<std::string> key_of(const form& named) {
    std::vector<std::string> key{named.text("id")};
    if (named.has("second")) key.push_back(named.text("second"));
    return key;
}

} // namespace tarewell::office
