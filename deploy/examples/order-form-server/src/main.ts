// The server side of a shop's order form.
//   SEAMWRIGHT_URL=http://127.0.0.1:8080 KEY=… PORT=3000 npm start
// The key is a secret one with the scope estimate.
import { formServer } from "./server.js";

const { SEAMWRIGHT_URL: url = "http://127.0.0.1:8080", KEY: key = "", PORT: port = "3000" } = process.env;
formServer(url, key).listen(Number(port), "127.0.0.1", () => console.log(`The form is at http://127.0.0.1:${port}/`));
