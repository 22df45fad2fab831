-- Posts one body over and over and ends with one line for the program that called wrk.
local file = assert(io.open(os.getenv("LOAD_BODY"), "rb"))
wrk.method = "POST"
wrk.body = file:read("*a")
wrk.headers["Content-Type"] = "application/json"
local key = os.getenv("LOAD_KEY")
if key and key ~= "" then wrk.headers["Authorization"] = "Bearer " .. key end
file:close()

function done(summary, latency, requests)
  local e = summary.errors
  io.write(string.format("RESULT requests=%d microseconds=%d bytes=%d p50=%.0f p99=%.0f max=%.0f connect=%d read=%d write=%d status=%d timeout=%d\n",
    summary.requests, summary.duration, summary.bytes, latency:percentile(50), latency:percentile(99), latency.max,
    e.connect, e.read, e.write, e.status, e.timeout))
end
