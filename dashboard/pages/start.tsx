export default function Start() {
  return <h1>Start</h1>;
}
