export default function Plan() {
  return <h1>Plan</h1>;
}
