export default function Review() {
  return <h1>Review</h1>;
}
