#pragma once
#include "desk/echo.hpp"
#include "desk/season_view.hpp"
#include "office/form_reader.hpp"
#include "office/gate.hpp"

#include <deque>
#include <map>
#include <memory>
#include <optional>
#include <string>

namespace tarewell::office {

/// The ledger of one office page: the file that is written to, and the season as last read, which is read again only
/// when the journal's head has moved, whoever moved it.
class kept_ledger {
  public:
    explicit kept_ledger(const std::string& path) : file_{ledger::ledger_file::open(path)} {}
    [[nodiscard]] ledger::ledger_file& file() { return file_; }
    [[nodiscard]] const std::string& path() const { return file_.path(); }
    /// Another handle on the same file, for questions that keep one.
    [[nodiscard]] ledger::ledger_file opened() const { return ledger::ledger_file::open(file_.path()); }
    [[nodiscard]] const desk::season_view& season();
    /// A quarter's report, read again likewise.
    [[nodiscard]] const desk::quarter_seen& quarter(const std::string& name);

  private:
    ledger::ledger_file file_;
    std::optional<desk::season_view> season_;
    std::map<std::string, desk::quarter_seen> quarters_;
};

/// What was said of an entry, for the page that comes after it.
struct said {
    desk::echo echo;
    std::string heading, kind, key, second_key;
};

/// A file that was sent in and looked at, and waits for the word to be taken in.
struct waiting_file {
    std::string kind, name, bytes;
};

/// Keeps the last few of something under names that nobody guesses and everybody may lose.
template <class T> class last_few {
  public:
    explicit last_few(std::size_t most) : most_{most} {}
    void keep(std::string name, T what) {
        kept_.emplace_back(std::move(name), std::move(what));
        if (kept_.size() > most_) kept_.pop_front();
    }
    [[nodiscard]] const T* find(std::string_view name) const {
        for (const auto& [known, what] : kept_)
            if (known == name) return &what;
        return nullptr;
    }

  private:
    std::size_t most_;
    std::deque<std::pair<std::string, T>> kept_;
};

/// All that an office page is between two requests.
struct state {
    state(const std::string& ledger_path, ledger::surroundings with, gate at_the_door)
        : kept{ledger_path}, around{std::move(with)}, door{std::move(at_the_door)} {}

    kept_ledger kept;
    ledger::surroundings around; ///< `who` is empty until a person says it
    std::string who_suggested;   ///< on the page that asks
    gate door;
    std::map<std::string, std::map<std::string, std::string>> last_values; ///< of each kind, as recorded here last
    last_few<said> told{32};
    last_few<waiting_file> waiting{4};
};

/// A request that was let in, with what it asks and sends.
struct call {
    const request& asked;
    form query; ///< behind the question mark
    form sent;  ///< of a POST
};

/// Answers a request; nothing but the ledger is read or written, and nothing is thrown that a person can be told.
response answer(state& of, const request& asked);

/// How many bytes a request may bring, told by its head alone: none to a stranger.
std::size_t longest_body(const state& of, const request& head);

} // namespace tarewell::office
