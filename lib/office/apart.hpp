#pragma once
#include "desk/value.hpp"

#include <chrono>
#include <deque>
#include <functional>
#include <future>
#include <optional>
#include <string>
#include <utility>

namespace tarewell::office {

/// Answers that take seconds are worked out apart, on one thread of their own, so that nobody else waits for them. The
/// last few are kept by name. Asked by one thread; what is worked out opens the ledger by itself and shares nothing.
class apart {
  public:
    using work = std::function<desk::value()>;
    /// The answer under a name; none yet where it is being worked out, or waits for another to be done. Throws what the
    /// work threw, once.
    std::optional<desk::value> answer(const std::string& name, work how);
    [[nodiscard]] bool is_working() const { return running_.valid(); }

  private:
    void put_away(std::chrono::milliseconds wait);

    std::string running_name_;
    std::future<desk::value> running_;
    std::deque<std::pair<std::string, std::shared_future<desk::value>>> done_;
};

} // namespace tarewell::office
