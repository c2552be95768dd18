export { type ChartLine, type LineChart, lineChart, type Mark, type Panel } from './line-chart.js'
