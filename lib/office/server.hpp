#pragma once
#include "office/state.hpp"

#include <chrono>
#include <functional>
#include <memory>

namespace tarewell::office {

struct server_limits {
    std::size_t connections = 64;
    std::size_t header = 16 * 1024; ///< bytes of a request's line and headers
    std::chrono::seconds head_time{10}, body_time{60}, idle_time{30};
};

/// The office page on this computer's own addresses, 127.0.0.1 and where there is one ::1, and on no other. One thread;
/// whoever is slow keeps nobody waiting.
class server {
  public:
    /// Takes the port, or with 0 a free one. Throws records::io_error when it is taken.
    explicit server(unsigned port, server_limits within = {});
    ~server();
    server(const server&) = delete;
    server& operator=(const server&) = delete;

    [[nodiscard]] unsigned port() const;
    /// Answers until SIGINT or SIGTERM comes.
    void run(state& with);

  private:
    struct inside;
    std::unique_ptr<inside> in_;
};

} // namespace tarewell::office
